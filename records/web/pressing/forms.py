"""Forms about presses, their loads and samples."""

from typing import Any

from django import forms

from records.engineering.units import units_of
from records.models import Blank, Gauge, Press, PressLoad
from records.queries.pressing.loads import blanks_to_press
from records.rules.pressing.glue_line import shown_by
from records.spelling.units import unit_name
from records.web.shared.choices import offer, offer_units
from records.web.shared.fields import (
    CountField,
    MomentField,
    NumberField,
    TextFileField,
)
from records.web.shared.forms import ShopForm

USUAL = {"pressure": "bar", "torque": "N.m"}


class BlankChoice(forms.ModelMultipleChoiceField):  # type: ignore[type-arg]
    """A choice of blanks, each with its design and state."""

    def label_from_instance(self, obj: Any) -> str:
        """Name the blank, its design and its state."""
        return f"{obj.number}, {obj.revision.design.model}, {obj.get_state_display()}"


class GaugeChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A choice of gauges in service."""

    def label_from_instance(self, obj: Any) -> str:
        """Name the gauge."""
        return f"{obj.number} {obj.name}"


class PressForm(ShopForm):
    """A press, and what turns its gauge's figure into pressure at the glue line."""

    name = forms.CharField(label="Name", max_length=60)
    kind = forms.ChoiceField(
        label="Kind", choices=Press.Kind, widget=forms.RadioSelect, initial="rams"
    )
    rams = CountField(label="Number of rams or screws", required=False)
    bore_mm = NumberField(
        label="Bore of a ram, or diameter of a screw", unit="mm", required=False
    )
    nut_factor = NumberField(
        label="Nut factor",
        required=False,
        help_text="Screws only: torque is this times force times diameter. Near 0.20 "
        "for dry steel, 0.15 oiled (from memory), give or take a quarter.",
    )
    bag_area_ratio = NumberField(
        label="Area of the bag to glued area",
        required=False,
        help_text="Vacuum bag only: 1 where the bag presses on the blank alone.",
    )


class InUseForm(ShopForm):
    """Whether the shop works with a press."""

    in_use = forms.BooleanField(label="The shop works with it", required=False)


class LoadForm(ShopForm):
    """What goes into a press, and when pressure went on."""

    press = forms.ModelChoiceField(
        label="Press", queryset=Press.objects.filter(in_use=True).order_by("name")
    )
    blanks = BlankChoice(
        label="Blanks in it",
        queryset=Blank.objects.none(),
        widget=forms.CheckboxSelectMultiple,
    )
    on_at = MomentField(label="Pressure on at")
    glued_area_mm2 = NumberField(
        label="Area under pressure",
        unit="mm2",
        required=False,
        help_text="Of one joint a blank. Empty: as the drawings give it, side by side. "
        "For blanks on top of each other enter the area of one.",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        offer(self, blanks=blanks_to_press())


class ShownForm(ShopForm):
    """What a press showed."""

    entered = forms.CharField(
        label="Shown",
        max_length=24,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
    )
    unit = forms.ChoiceField(label="Unit", choices=())
    temperature_c = NumberField(
        label="At the stack", unit="degC", keyboard="text", required=False
    )

    def __init__(self, *args: Any, load: PressLoad, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        shown = shown_by(load.press)
        self.fields["entered"].label = f"{shown.capitalize()} shown"
        offer_units(self, "unit", unit_choices(shown))
        self.fields["unit"].initial = USUAL[shown]


class SampleForm(ShownForm):
    """A sample typed at the press."""

    at = MomentField(label="Read at")
    gauge = GaugeChoice(label="Gauge", queryset=Gauge.objects.none(), required=False)

    def __init__(self, *args: Any, load: PressLoad, **kwargs: Any) -> None:
        super().__init__(*args, load=load, **kwargs)
        offer(self, gauge=gauges_for(load))


class CorrectSampleForm(ShownForm):
    """A sample written anew, with the reason."""

    reason = forms.CharField(label="Why it is corrected", max_length=200)


class ImportForm(ShopForm):
    """A logger's file, and what its figures are."""

    file = TextFileField(
        label="Logger's file",
        help_text="CSV with a heading that names the columns: time (or date and time, "
        "or elapsed [s], [min] or [h] since pressure on), pressure (or torque), and "
        "temperature. Semicolon, tab or comma between columns; a decimal comma only "
        "with semicolon or tab. Times such as 2026-03-04 14:05:30.",
    )
    unit = forms.ChoiceField(label="Unit of the pressure", choices=())
    temperature_unit = forms.ChoiceField(
        label="Unit of the temperature",
        choices=[("degC", unit_name("degC")), ("degF", unit_name("degF"))],
    )
    gauge = GaugeChoice(
        label="Logger or gauge", queryset=Gauge.objects.none(), required=False
    )

    def __init__(self, *args: Any, load: PressLoad, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        shown = shown_by(load.press)
        self.fields["unit"].label = f"Unit of the {shown}"
        offer_units(self, "unit", unit_choices(shown))
        self.fields["unit"].initial = USUAL[shown]
        offer(self, gauge=gauges_for(load))


class OpenForm(ShopForm):
    """When pressure went off."""

    off_at = MomentField(label="Pressure off at")


def unit_choices(shown: str) -> list[tuple[str, str]]:
    """List the units in which a press can show a quantity."""
    return [(unit, unit_name(unit)) for unit in units_of(shown)]


def gauges_for(load: PressLoad) -> Any:
    """List the gauges in service that read what a load's press shows."""
    units = units_of(shown_by(load.press))
    in_service = Gauge.objects.filter(state=Gauge.State.IN_SERVICE, unit__in=units)
    return in_service.order_by("number", "pk")
