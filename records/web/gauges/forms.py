"""Forms about gauges and their calibrations."""

from typing import Any

from django import forms

from records.engineering.unit_table import UNITS
from records.models import Gauge
from records.spelling.units import unit_name
from records.web.shared.fields import (
    CountField,
    DayField,
    MomentField,
    NumberField,
    PaperField,
    today,
)
from records.web.shared.forms import ShopForm

SIGNED = "text"
NO_UNIT = "State the unit of the error as found, such as mm."


def unit_choices() -> list[tuple[str, str]]:
    """List every unit, those of one kind together."""
    units = sorted(UNITS.values(), key=lambda u: (u.dimension, u.symbol))
    return [
        ("", "choose"),
        *((u.symbol, f"{unit_name(u.symbol) or '1'} ({u.dimension})") for u in units),
    ]


class GaugeForm(ShopForm):
    """A gauge for the register."""

    number = forms.CharField(
        label="Number marked on it", max_length=40, help_text="Such as G07."
    )
    name = forms.CharField(
        label="What it is",
        max_length=80,
        help_text="Templates, jigs and fixtures are gauges too.",
    )
    maker_serial = forms.CharField(
        label="Maker and serial", max_length=60, required=False
    )
    unit = forms.ChoiceField(label="Unit it reads in", choices=unit_choices)
    range_low = NumberField(label="Reads from", keyboard=SIGNED)
    range_high = NumberField(label="Reads up to", keyboard=SIGNED)
    resolution = NumberField(
        label="Smallest step it shows", help_text="In the same unit, such as 0.1."
    )
    interval_days = CountField(
        label="Days between calibrations",
        unit="d",
        initial=365,
        help_text="A first guess: by type, use, and how well it must be known.",
    )


class CalibrationForm(ShopForm):
    """A calibration as found and as left."""

    done_on = DayField(label="Done on", initial=today)
    unit = forms.ChoiceField(
        label="Unit of the errors below",
        choices=unit_choices,
        error_messages={"required": NO_UNIT},
    )
    as_found_error = NumberField(
        label="Greatest error as found",
        keyboard=SIGNED,
        help_text="Reading less true value, before anything was adjusted.",
    )
    as_left_error = NumberField(
        label="Greatest error as left",
        keyboard=SIGNED,
        help_text="The same figure, if nothing was adjusted.",
    )
    permissible_error = NumberField(
        label="Greatest error allowed", help_text="Either way, without a sign."
    )
    expanded_uncertainty = NumberField(
        label="Expanded uncertainty U", help_text="As the certificate states it."
    )
    coverage_factor = NumberField(label="Coverage factor k", initial=2)
    certificate = forms.CharField(
        label="Certificate, or how it was done", max_length=120
    )
    standard = forms.CharField(
        label="Standard used, and what it is traceable to", max_length=160
    )
    next_due_on = DayField(
        label="Due again on",
        required=False,
        help_text="Empty: counted from the days between calibrations.",
    )
    photo = PaperField(label="Certificate as PDF or photo", required=False)

    def __init__(self, *args: Any, gauge: Gauge, **kwargs: Any) -> None:
        initial = {"unit": gauge.unit, **(kwargs.pop("initial", None) or {})}
        super().__init__(*args, initial=initial, **kwargs)


class NoticedForm(ShopForm):
    """When it was seen that the gauge was out."""

    happened_at = MomentField(label="Found at")


class ReasonForm(ShopForm):
    """Why a gauge leaves service or returns to it."""

    reason = forms.CharField(label="Why", max_length=200)
    happened_at = MomentField(label="When")


class IntervalForm(ShopForm):
    """Another interval between calibrations."""

    interval_days = CountField(label="Days between calibrations", unit="d")
    reason = forms.CharField(label="Why", max_length=160)
