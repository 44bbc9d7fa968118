"""Quantities: a value with its unit, the shop's system first, never a bare pascal."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Final

from records.engineering.units import convert
from records.spelling.numbers import BOUND, NOTHING, Number, exact, plain, rounded
from records.spelling.units import decimals, is_inch_pound, partner, unit_name

METRIC: Final = "metric"
INCH: Final = "inch"
KILOGRAM_G: Final = 1000
_PASCALS_EACH: Final = {"Pa": 1.0, "kPa": 1e3}

_first: ContextVar[Callable[[], str]] = ContextVar("first", default=lambda: METRIC)


@contextmanager
def units_first(chosen: Callable[[], str]) -> Iterator[None]:
    """Spell lengths, masses and the like by a shop's choice, asked when needed."""
    token = _first.set(chosen)
    try:
        yield
    finally:
        _first.reset(token)


def in_unit(value: Number | None, unit: str) -> str:
    """Spell a value in its unit only: digits as read, a computed one rounded.

    A pressure in pascals is spelled in megapascals.
    """
    if value is None:
        return NOTHING
    if unit == "Pa":
        value, unit = float(value) / 1e6, "MPa"
    if isinstance(value, float):
        return with_unit(rounded(value, decimals(unit)), unit)
    return with_unit(plain(value), unit)


def both(value: Number | None, unit: str, first: str = "") -> str:
    """Spell a value in both unit systems, the shop's own first.

    `first` is "metric" or "inch"; without it, as the shop has chosen.

    >>> both(Decimal("80"), "psi", "inch").replace(BOUND, " ")
    '80 psi (552 kPa)'
    """
    if value is None:
        return NOTHING
    if unit in _PASCALS_EACH:
        return pressure(float(value) * _PASCALS_EACH[unit], first)
    return in_both_systems(in_unit(value, unit), value, unit, first)


def in_both_systems(own: str, value: Number, unit: str, first: str = "") -> str:
    """Put the other system's figure beside a value that is spelled already."""
    other = partner(unit)
    if other is None:
        return own
    if unit == "g" and abs(float(value)) >= KILOGRAM_G:
        other = "lb"
    shown = in_unit(float(convert(exact(value), unit, other)), other)
    metric, inch = (shown, own) if is_inch_pound(unit) else (own, shown)
    return _pair(metric, inch, first)


def with_unit(figure: str, unit: str) -> str:
    """Bind a unit to a figure; the degree of an angle stands close.

    >>> with_unit("16.82", "deg")
    '16.82°'
    """
    name = unit_name(unit)
    if not name:
        return figure
    return f"{figure}{name}" if unit == "deg" else f"{figure}{BOUND}{name}"


def length(mm: Number | None, first: str = "") -> str:
    """Spell a length in millimetres and inches."""
    return both(mm, "mm", first)


def pressure(pa: Number | None, first: str = "") -> str:
    """Spell a pressure, given in pascals, in megapascals and psi."""
    return both(None if pa is None else float(pa) / 1e6, "MPa", first)


def torque(nm: Number | None, first: str = "") -> str:
    """Spell a torque in newton metres and foot pounds."""
    return both(nm, "N.m", first)


def torque_range(low_nm: Number, high_nm: Number, first: str = "") -> str:
    """Spell a range of torque; one figure where both are the same."""
    low, high = torque(low_nm, first), torque(high_nm, first)
    return low if low == high else f"{low} to {high}"


def mass(g: Number | None, first: str = "") -> str:
    """Spell a mass in grams and ounces; from a kilogram on, in pounds."""
    return both(g, "g", first)


def unbalance(g_mm: Number | None, first: str = "") -> str:
    """Spell a static unbalance in gram millimetres and ounce inches."""
    return both(g_mm, "g.mm", first)


def temperature(celsius: Number | None, first: str = "") -> str:
    """Spell a temperature in degrees Celsius and Fahrenheit."""
    return both(celsius, "degC", first)


def own_length(mm: Number) -> str:
    """Spell a length in the shop's own system only: it names a place on a drawing."""
    if _first.get()() != INCH:
        return in_unit(mm, "mm")
    return in_unit(float(convert(exact(mm), "mm", "in")), "in")


def percent(fraction: float) -> str:
    """Spell a share of a whole in whole percent."""
    return with_unit(f"{100 * fraction:.0f}", "%")


def _pair(metric: str, inch: str, first: str) -> str:
    shown = first or _first.get()()
    return f"{inch} ({metric})" if shown == INCH else f"{metric} ({inch})"
