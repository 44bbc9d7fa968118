"""The form of a signature."""

from collections.abc import Iterable
from typing import Any

from django import forms

from records.models import Stage
from records.web.shared.forms import ShopForm

MEANINGS = (
    ("I did this work, and it is as required.", "I did this work, as required"),
    ("I inspected this, and it is as required.", "I inspected it, as required"),
    ("I reviewed this record, and it is whole.", "I reviewed the record, it is whole"),
)


class SignForm(ShopForm):
    """Meaning, kind of check, and who signs shown again."""

    meaning = forms.ChoiceField(
        label="My signature means",
        choices=[(text, text) for text, _ in MEANINGS],
        widget=forms.RadioSelect,
    )
    check_kind = forms.ChoiceField(
        label="Kind of check", choices=Stage.CheckKind, widget=forms.RadioSelect
    )
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
    seen_digest = forms.CharField(widget=forms.HiddenInput, max_length=64)

    def __init__(
        self,
        *args: Any,
        kinds: Iterable[Stage.CheckKind],
        bench: bool,
        why: str,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        open_kinds = [(kind.value, kind.label) for kind in kinds]
        field = self.fields["check_kind"]
        if isinstance(field, forms.ChoiceField):
            field.choices = open_kinds
        field.help_text = why
        field.initial = open_kinds[-1][0] if open_kinds else None
        self.fields["password"].required = not bench
        if not bench:
            del self.fields["pin"]
