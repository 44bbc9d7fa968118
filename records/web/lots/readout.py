"""A glue sheet as a page shows it: its table, and its times at one temperature."""

from dataclasses import dataclass
from decimal import Decimal

from django import forms

from records.engineering.gluing_times import interpolate_time
from records.models import GlueSheet, GlueSheetPoint
from records.queries.gluing.times import GlueTables
from records.rules.finding import Finding, warning
from records.spelling.moments import duration, when
from records.spelling.numbers import plain
from records.spelling.quantities import both, pressure, temperature
from records.web.shared.fields import NumberField
from records.web.shared.parts import Fact

ROOM_C = Decimal(20)
Q = GlueSheetPoint.Quantity


class TemperatureForm(forms.Form):
    """The temperature of glue and room to read the sheet at."""

    celsius = NumberField(
        label="Glue and room", unit="degC", keyboard="text", initial=ROOM_C
    )

    def celsius_asked(self) -> Decimal:
        """Give the temperature asked for; a usual room's where there is none."""
        good = self.is_bound and self.is_valid()
        return self.cleaned_data["celsius"] if good else ROOM_C


@dataclass(frozen=True, slots=True)
class Grid:
    """A maker's table: quantities across, temperatures down."""

    heads: list[str]
    rows: list[tuple[str, list[tuple[str, str]]]]


@dataclass(frozen=True, slots=True)
class Readout:
    """The sheet's times at one temperature, and what it does not say."""

    at: str
    times: list[tuple[str, str]]
    findings: list[Finding]


def facts_of(sheet: GlueSheet) -> list[Fact]:
    """Spell what a sheet says besides its table, in both unit systems."""
    low, high = sheet.spread_low_gm2, sheet.spread_high_gm2
    parts = f"{plain(sheet.parts_low)} to {plain(sheet.parts_high)}"
    least, most = sheet.pressure_low_pa, sheet.pressure_high_pa
    shelf = sheet.shelf_life_days
    return [
        Fact("Adhesive", sheet.adhesive.name),
        Fact("Hardener", sheet.hardener.name if sheet.hardener else "none, or water"),
        Fact("Parts to 100 of resin, by mass", parts),
        Fact("Spread on a glue line", f"{both(low, 'g/m2')} to {both(high, 'g/m2')}"),
        Fact("Pressure at the glue line", f"{pressure(least)} to {pressure(most)}"),
        Fact("Shelf life, unopened", f"{shelf} days" if shelf else "not stated"),
        Fact("Maker's document", sheet.source),
        Fact("Copied by", f"{sheet.written_by.name}, {when(sheet.written_at)}"),
    ]


def grid_of(table: GlueTables) -> Grid:
    """Lay a sheet's table out; a dash where the maker gives no time."""
    quantities = [q for q in Q if table.rows.get(q)]
    columns = {q: dict(table.rows[q]) for q in quantities}
    warmths = sorted({celsius for times in columns.values() for celsius in times})
    rows = []
    for celsius in warmths:
        cells = [(q.label, _time(columns[q].get(celsius))) for q in quantities]
        rows.append((temperature(celsius), cells))
    return Grid([q.label.capitalize() for q in quantities], rows)


def read_at(table: GlueTables, celsius: Decimal) -> Readout:
    """Read the sheet at a temperature, and say what it does not give there."""
    at = table.at(float(celsius))
    press, press_unknown = _press_time(table, float(celsius))
    times = {
        Q.WORKING_LIFE: at.working_life_s,
        Q.OPEN_MOST: at.open_most_s,
        Q.CLOSED_LEAST: at.closed_least_s,
        Q.CLOSED_MOST: at.closed_most_s,
        Q.PRESS_TIME: press,
    }
    silent = [
        warning(f"The sheet gives no {q.label}.") for q in Q if q not in table.rows
    ]
    unknown = [Finding(text) for text in (*at.unknown, *press_unknown)]
    return Readout(
        temperature(celsius),
        [(q.label.capitalize(), _time(seconds)) for q, seconds in times.items()],
        unknown + silent,
    )


def _press_time(
    table: GlueTables, celsius: float
) -> tuple[float | None, tuple[str, ...]]:
    if not table.press_time:
        return None, ()
    try:
        return interpolate_time(table.press_time, celsius), ()
    except ValueError as error:
        return None, (f"{Q.PRESS_TIME.label.capitalize()} not known: {error}.",)


def _time(seconds: float | None) -> str:
    return "\N{EN DASH}" if seconds is None else duration(seconds)
