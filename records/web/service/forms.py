"""Forms of owners, handing over, events in service, and notices."""

from typing import Any

from django import forms

from records.models import (
    Notice,
    NoticeSerial,
    NoticeStep,
    Owner,
    Propeller,
    ServiceEvent,
)
from records.queries.service.owners import owners_listed
from records.queries.tags import propellers_called
from records.web.shared.fields import MomentField, NumberField
from records.web.shared.forms import ShopForm

MOST_SERIALS = 2000


class OwnerForm(ShopForm):
    """Somebody who has one of the shop's propellers."""

    name = forms.CharField(label="Name", max_length=80)
    address = forms.CharField(
        label="Address",
        required=False,
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    contact = forms.CharField(
        label="Telephone or e-mail",
        required=False,
        max_length=120,
        help_text="So that notices reach the owner. Nobody outside the shop sees it.",
    )


class ContactForm(OwnerForm):
    """What may change about an owner: the name stays."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        del self.fields["name"]


class OwnedForm(ShopForm):
    """Who has it from when, on what."""

    owner = forms.ModelChoiceField(label="Owner", queryset=Owner.objects.none())
    happened_at = MomentField(label="From")
    aircraft = forms.CharField(
        label="Aircraft and engine", max_length=120, required=False
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        owners = self.fields["owner"]
        if isinstance(owners, forms.ModelChoiceField):
            owners.queryset = owners_listed()


class HandOverForm(OwnedForm):
    """A released propeller goes out."""

    carrier = forms.CharField(
        label="Carrier and packing", max_length=120, required=False
    )


class EventForm(ShopForm):
    """Something in a propeller's life after delivery."""

    kind = forms.ChoiceField(
        label="What happened", choices=ServiceEvent.Kind, widget=forms.RadioSelect
    )
    happened_at = MomentField(label="When")
    hours = NumberField(
        label="Hours run so far",
        unit="h",
        required=False,
        min_value=0,
        max_value=99_999,
        decimal_places=1,
    )
    findings = forms.CharField(
        label="What was found, or done",
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 5}),
        help_text="Work done is printed on the next conformity record: parts, limits, "
        "markings struck. Reports stay in the shop.",
    )


class NoticeForm(ShopForm):
    """What the owners of certain serials should know and do."""

    title = forms.CharField(label="Title", max_length=120)
    text = forms.CharField(
        label="What, why, what to do, by when",
        max_length=8000,
        widget=forms.Textarea(attrs={"rows": 8}),
        help_text="Anybody who scans the tag of one of these propellers reads it.",
    )
    do_not_fly = forms.BooleanField(label="Do not fly until it is done", required=False)
    serials = forms.CharField(
        label="For these serials, one a line",
        max_length=60_000,
        widget=forms.Textarea(attrs={"rows": 6, "autocapitalize": "characters"}),
    )
    happened_at = MomentField(label="Issued at")

    def clean_serials(self) -> list[Propeller]:
        """Find the propeller of each line."""
        lines = self.cleaned_data["serials"].replace(",", "\n").splitlines()
        wanted = list(dict.fromkeys(text for line in lines if (text := line.strip())))
        if len(wanted) > MOST_SERIALS:
            raise forms.ValidationError(f"At most {MOST_SERIALS} at once.")
        known = propellers_called(wanted)
        unknown = [serial for serial in wanted if serial.lower() not in known]
        if unknown:
            names = ", ".join(unknown[:20])
            raise forms.ValidationError(f"The book has no propeller {names}.")
        return [known[serial.lower()] for serial in wanted]


class StepForm(ShopForm):
    """What became of a notice, for one or more of its serials."""

    serials = forms.TypedMultipleChoiceField(
        label="For", coerce=int, widget=forms.CheckboxSelectMultiple
    )
    kind = forms.ChoiceField(
        label="What became of it", choices=NoticeStep.Kind, widget=forms.RadioSelect
    )
    happened_at = MomentField(label="When")
    note = forms.CharField(label="Note", max_length=200, required=False)

    def __init__(self, *args: Any, notice: Notice, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        rows = NoticeSerial.objects.filter(notice=notice).select_related("propeller")
        self.rows = {row.pk: row for row in rows.order_by("propeller__serial", "pk")}
        serials = self.fields["serials"]
        if isinstance(serials, forms.TypedMultipleChoiceField):
            serials.choices = [(pk, r.propeller.serial) for pk, r in self.rows.items()]

    def clean_serials(self) -> list[NoticeSerial]:
        """Find the serials that were ticked."""
        return [self.rows[pk] for pk in self.cleaned_data["serials"]]
