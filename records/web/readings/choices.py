"""What can be chosen when a reading is taken: units, gauges, blades, stations."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from django.db.models import Model

from records.engineering.units import dimension, units_of
from records.models import Characteristic, Gauge, PressLoad, Station
from records.queries.gauges.register import NEVER, OVERDUE, gauges_listed
from records.queries.provenance.made_of import Provenance
from records.rules.pressing.glue_line import shown_by
from records.rules.readings.draft import GLUE_LINE
from records.spelling.moments import day
from records.spelling.numbers import plain
from records.spelling.units import unit_name

Per = Characteristic.Per
# Units that somebody in a shop reads; the rest of the table is for calculation.
RARE = {"K", "rad", "GPa", "m", "kg.m", "um", "ft", "kN", "mg", "r/s", "mbar", "1"}


@dataclass(frozen=True, slots=True)
class Choices:
    """What a characteristic can be answered with, on one thing."""

    characteristic: Characteristic
    units: list[str] = field(default_factory=list)
    gauges: list[tuple[Gauge, str]] = field(default_factory=list)
    blades: list[int] = field(default_factory=list)
    stations: list[Station] = field(default_factory=list)
    joints: list[int] = field(default_factory=list)

    def with_gauges(self, gauges: list[tuple[Gauge, str]]) -> "Choices":
        """Choose among gauges read before: those that show one of the units."""
        shows = {dimension(unit) for unit in self.units}
        mine = [(g, words) for g, words in gauges if dimension(g.unit) in shows]
        return replace(self, gauges=mine)


def choices_for(
    characteristic: Characteristic,
    thing: Model,
    provenance: Provenance,
    on: dt.date,
    *,
    with_gauges: bool = True,
) -> Choices:
    """Gather what can be chosen: one query for the gauges, none for the rest."""
    design, per = provenance.design, characteristic.per
    units = units_for(characteristic, thing)
    gauges = gauges_reading(units, on) if units and with_gauges else []
    if design is None:
        return Choices(characteristic, units, gauges)
    by_blade = per in {Per.BLADE, Per.STATION}
    return Choices(
        characteristic,
        units,
        gauges,
        blades=list(range(1, design.blades + 1)) if by_blade else [],
        stations=provenance.stations if per == Per.STATION else [],
        joints=list(range(1, design.laminations)) if per == Per.JOINT else [],
    )


def units_for(characteristic: Characteristic, thing: Model | None = None) -> list[str]:
    """List the units a figure may be entered in, its own first."""
    if characteristic.kind != Characteristic.Kind.MEASURED:
        return []
    own, quantity = characteristic.unit, dimension(characteristic.unit)
    if isinstance(thing, PressLoad) and characteristic.computed == GLUE_LINE:
        wanted = shown_by(thing.press)
        if wanted != quantity:
            return [u for u in units_of(wanted) if u not in RARE]
    others = [u for u in units_of(quantity) if u not in RARE and u != own]
    return [own, *others]


def gauges_reading(units: Iterable[str], on: dt.date) -> list[tuple[Gauge, str]]:
    """List the gauges in service that read one of these units, in words (one query)."""
    known = {u for unit in units for u in units_of(dimension(unit))}
    gauges = gauges_listed(on).filter(unit__in=known, state=Gauge.State.IN_SERVICE)
    return [(gauge, _in_words(gauge)) for gauge in gauges.order_by("number", "pk")]


def _in_words(gauge: Gauge) -> str:
    due = getattr(gauge, "due_on", None)
    status = getattr(gauge, "status", "")
    state = {NEVER: NEVER, OVERDUE: f"overdue since {day(due)}"}.get(
        status, f"due {day(due)}"
    )
    reach = f"{plain(gauge.range_low)} to {plain(gauge.range_high)}"
    return f"{gauge}, {reach} {unit_name(gauge.unit)}, {state}"
