"""Forms of releasing, issuing, withdrawing, and checking a paper."""

from typing import Any

from django import forms

from records.models import Attachment, Propeller
from records.queries.conformity.register import pictures_of, stamp_photo
from records.web.shared.fields import MomentField, PaperField
from records.web.shared.forms import ShopForm


class ReleaseForm(ShopForm):
    """Who releases shows again who they are."""

    password = forms.CharField(
        label="My password again",
        required=False,
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )
    pin = forms.CharField(
        label="or my PIN",
        required=False,
        max_length=8,
        widget=forms.PasswordInput(
            attrs={"inputmode": "numeric", "autocomplete": "off"}
        ),
        help_text="It counts on the shop's own bench devices.",
    )

    def __init__(self, *args: Any, bench: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["password"].required = not bench
        if not bench:
            del self.fields["pin"]


class IssueForm(ReleaseForm):
    """What a record says that is not in the book yet."""

    place = forms.CharField(label="Issued at (place)", max_length=80, required=False)
    packing = forms.CharField(
        label="Packing",
        max_length=160,
        required=False,
        help_text="Such as: in a sealed bag, flat, with its bolts. Keep until fitting.",
    )
    stamp = forms.ModelChoiceField(
        label="Photo of the marking",
        queryset=Attachment.objects.none(),
        required=False,
        empty_label="none",
    )
    reason = forms.CharField(
        label="Why it is issued again",
        max_length=200,
        help_text="It is printed on the new record.",
    )

    def __init__(
        self, *args: Any, propeller: Propeller, again: bool, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        photos = self.fields["stamp"]
        if isinstance(photos, forms.ModelChoiceField):
            photos.queryset = pictures_of(propeller)
            photos.initial = stamp_photo(propeller)
        if not again:
            del self.fields["reason"]
        self.order_fields(["reason", "place", "packing", "stamp", "password", "pin"])


class WithdrawForm(ShopForm):
    """Why a record is taken back, and when."""

    reason = forms.CharField(
        label="Why", max_length=200, widget=forms.Textarea(attrs={"rows": 3})
    )
    happened_at = MomentField(label="Withdrawn at")


class CheckForm(forms.Form):
    """A paper to be checked: the file itself, or what is printed on it."""

    paper = PaperField(label="The PDF of the record", required=False)
    printed = forms.CharField(
        label="or its number, or the digest of its facts",
        max_length=120,
        required=False,
        widget=forms.TextInput(attrs={"autocomplete": "off", "spellcheck": False}),
    )

    def clean(self) -> dict[str, Any]:
        """See that something was given."""
        given = super().clean() or self.cleaned_data
        if not given.get("paper") and not given.get("printed") and not self.errors:
            raise forms.ValidationError("Choose the file, or type what is printed.")
        return given
