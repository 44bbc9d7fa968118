"""Readings: the figure as entered, what was judged, against what, and where."""

from decimal import Decimal

from records.engineering.units import parse_number
from records.models import Characteristic, Reading
from records.spelling.limits import limit, short_limit
from records.spelling.numbers import true_minus
from records.spelling.places import place
from records.spelling.quantities import both, in_both_systems, in_unit, with_unit
from records.spelling.verdicts import VOID, Verdict


def entered(figure: str, unit: str) -> str:
    """Spell a figure digit for digit as it was entered, in its own unit.

    >>> entered("16.00", "mm").replace("\N{NO-BREAK SPACE}", " ")
    '16.00 mm'
    """
    return with_unit(true_minus(figure), unit)


def figure(text: str, unit: str, first: str = "") -> str:
    """Spell a figure as entered, and beside it in the other system's unit."""
    own = entered(text, unit)
    try:
        value = parse_number(text) if unit else None
    except ValueError:
        value = None
    return own if value is None else in_both_systems(own, value, unit, first)


def figure_of(reading: Reading, first: str = "") -> str:
    """Spell what was entered for a reading, in both systems."""
    return figure(reading.entered, reading.unit, first)


def short_figure_of(reading: Reading) -> str:
    """Spell what was entered for a reading, in its own unit only."""
    return entered(reading.entered, reading.unit)


def judged_of(reading: Reading) -> str:
    """Spell the figure that was judged, where it is not the figure as read."""
    computed = reading.characteristic.computed
    if not computed or reading.characteristic.is_range or reading.judged is None:
        return ""
    of = "at the glue line " if computed == _GLUE_LINE else ""
    return f"{of}{both(float(reading.judged), reading.judged_unit)}"


def limit_of(reading: Reading) -> str:
    """Spell the limit stored with a reading, in both systems; nothing without one."""
    return limit(reading.low, reading.high, reading.judged_unit)


def short_limit_of(reading: Reading) -> str:
    """Spell the limit stored with a reading in its own unit only."""
    return short_limit(reading.low, reading.high, reading.judged_unit)


def place_of(reading: Reading) -> str:
    """Spell where on the thing a reading was taken; nothing for the whole thing."""
    station = reading.station
    return place(
        blade=reading.blade,
        radius_mm=station.radius_mm if station else None,
        joint=reading.joint,
        point=reading.point,
    )


def name_of(reading: Reading) -> str:
    """Name a reading by what was read, and where."""
    where = place_of(reading)
    name = reading.characteristic.name
    return f"{name}, {where}" if where else name


def verdict_of(reading: Reading) -> Verdict:
    """Give the verdict of a reading, with the limit and what was judged."""
    shape = VOID if reading.is_withdrawn else str(reading.verdict)
    held = limit_of(reading)
    judged = judged_of(reading)
    parts = [judged, f"limit {held}" if held else ""]
    detail = ", ".join(part for part in parts if part)
    return Verdict(shape, str(reading.get_verdict_display()), detail)


def uncertainty(size: float, unit: str) -> str:
    """Spell a standard uncertainty: two digits that count."""
    return both(size, unit) if unit == "Pa" else in_unit(Decimal(f"{size:.2g}"), unit)


_GLUE_LINE = Characteristic.Computed.GLUE_LINE_PRESSURE
