"""Forms about readings: one figure or answer, its correction, its withdrawal."""

from collections.abc import Iterable
from typing import Any

from django import forms

from records.models import Characteristic
from records.spelling.units import unit_name
from records.web.readings.choices import Choices
from records.web.shared.fields import MomentField, PhotoField
from records.web.shared.forms import ShopForm

Kind = Characteristic.Kind
ANSWERS = (("yes", "yes"), ("no", "no"))


class OneOf(forms.TypedChoiceField):
    """A choice among things read before: no query, and the thing comes back."""

    def __init__(self, pairs: Iterable[tuple[Any, str]], **kwargs: Any) -> None:
        self.things = {str(getattr(t, "pk", t)): t for t, _ in pairs}
        words = [(str(getattr(t, "pk", t)), word) for t, word in pairs]
        if not kwargs.get("required", True) or len(words) != 1:
            words = [("", "choose" if kwargs.get("required", True) else "none"), *words]
        super().__init__(
            choices=words, coerce=self.things.get, empty_value=None, **kwargs
        )


def entered_field(characteristic: Characteristic, label: str, hint: str) -> forms.Field:
    """Make the field for a figure, an answer or words; a figure keeps its digits."""
    if characteristic.kind == Kind.YES_NO:
        return forms.ChoiceField(
            label=label, choices=ANSWERS, widget=forms.RadioSelect, help_text=hint
        )
    if characteristic.kind == Kind.NOTE:
        area = forms.Textarea(attrs={"rows": 2})
        return forms.CharField(label=label, max_length=200, widget=area, help_text=hint)
    low = characteristic.plausible_low
    signed = low is None or low < 0
    attrs = {
        "inputmode": "text" if signed else "decimal",
        "autocomplete": "off",
        "autofocus": True,
    }
    return forms.CharField(
        label=label,
        max_length=60,
        widget=forms.TextInput(attrs=attrs),
        help_text=hint,
    )


def unit_field(units: list[str], label: str = "Unit") -> forms.ChoiceField:
    """Ask for the unit as it was read, the usual one first."""
    return forms.ChoiceField(
        label=label, choices=[(u, unit_name(u) or "1") for u in units]
    )


class ReadingForm(ShopForm):
    """One reading: only what this characteristic needs is asked."""

    def __init__(self, *args: Any, choices: Choices, hint: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        characteristic = choices.characteristic
        fields = self.fields
        fields["entered"] = entered_field(characteristic, characteristic.name, hint)
        if choices.units:
            fields["unit"] = unit_field(choices.units)
        if choices.blades:
            blades = [(n, f"blade {n}") for n in choices.blades]
            fields["blade"] = OneOf(blades, label="Blade")
        if choices.stations:
            stations = [(s, str(s)) for s in choices.stations]
            fields["station"] = OneOf(stations, label="Station")
        if choices.joints:
            joints = [(n, f"joint {n}") for n in choices.joints]
            fields["joint"] = OneOf(joints, label="Joint")
        if characteristic.at_least > 1:
            fields["point"] = forms.CharField(
                label="Where, or which", max_length=40, required=False
            )
        if choices.units:
            fields["gauge"] = OneOf(
                choices.gauges, label="Gauge", required=characteristic.gauge_needed
            )
        fields["happened_at"] = MomentField(label="Read at")
        fields["photo"] = PhotoField(label="Photo of what was seen", required=False)
        self.order_fields([n for n in fields if n != "form_key"])


class CorrectionForm(ShopForm):
    """What should have been entered, and why it was not."""

    def __init__(self, *args: Any, choices: Choices, hint: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        characteristic = choices.characteristic
        fields = self.fields
        fields["entered"] = entered_field(characteristic, characteristic.name, hint)
        if choices.units:
            fields["unit"] = unit_field(choices.units)
            fields["gauge"] = OneOf(choices.gauges, label="Gauge", required=False)
        fields["happened_at"] = MomentField(label="Read at")
        fields["reason"] = forms.CharField(
            label="Why it is corrected",
            max_length=200,
            help_text="The old figure stays readable beside it.",
        )
        self.order_fields([n for n in fields if n != "form_key"])


class WithdrawForm(ShopForm):
    """Why a reading should not be here."""

    reason = forms.CharField(
        label="Why it is withdrawn",
        max_length=200,
        help_text="Such as: read on another propeller. It stays readable.",
    )


class ComputeForm(ShopForm):
    """Nothing to enter: the button is the answer."""
