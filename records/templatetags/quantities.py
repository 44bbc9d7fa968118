"""How a quantity is spelled: both unit systems, rounded here and nowhere else.

A `Decimal` is what somebody read and keeps its digits; a `float` was computed and is
rounded. The other system's figure is always rounded.
"""

import datetime as dt
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from decimal import Decimal
from typing import Final, TypeAlias

from django import template
from django.utils import timezone

from records.engineering.units import convert

register = template.Library()

Number: TypeAlias = Decimal | float | int
METRIC: Final = "metric"
NOTHING = "\N{EN DASH}"
KILOGRAM_G = 1000
MINUS = "\N{MINUS SIGN}"
MONTHS = (
    *("Jan", "Feb", "Mar", "Apr", "May", "Jun"),
    *("Jul", "Aug", "Sep", "Oct", "Nov", "Dec"),
)

SPELLED = {
    "N.m": "N·m",
    "lbf.ft": "lbf·ft",
    "lbf.in": "lbf·in",
    "kg.m": "kg·m",
    "g.mm": "g·mm",
    "g.cm": "g·cm",
    "oz.in": "oz·in",
    "degC": "°C",
    "degF": "°F",
    "deg": "°",
    "um": "µm",
    "kg/m2": "kg/m²",
    "g/m2": "g/m²",
    "lb/1000ft2": "lb/1000 ft²",
    "kg/m3": "kg/m³",
    "g/cm3": "g/cm³",
    "lb/ft3": "lb/ft³",
    "m2": "m²",
    "cm2": "cm²",
    "mm2": "mm²",
    "in2": "in²",
    "ft2": "ft²",
    "m3": "m³",
    "bd.ft": "board ft",
    "1/s": "/s",
    "1": "",
}
# Unit: (the other system's unit, decimals of a computed figure in this unit).
PAIRS: dict[str, tuple[str, int]] = {
    "mm": ("in", 2),
    "in": ("mm", 3),
    "cm": ("in", 1),
    "m": ("ft", 3),
    "ft": ("m", 2),
    "thou": ("mm", 0),
    "um": ("thou", 0),
    "g": ("oz", 0),
    "oz": ("g", 2),
    "kg": ("lb", 2),
    "lb": ("kg", 2),
    "N": ("lbf", 0),
    "kN": ("lbf", 2),
    "lbf": ("N", 0),
    "Pa": ("psi", 0),
    "kPa": ("psi", 0),
    "MPa": ("psi", 2),
    "bar": ("psi", 2),
    "mbar": ("psi", 0),
    "psi": ("kPa", 0),
    "degC": ("degF", 1),
    "degF": ("degC", 1),
    "N.m": ("lbf.ft", 1),
    "lbf.ft": ("N.m", 1),
    "lbf.in": ("N.m", 0),
    "g.mm": ("oz.in", 0),
    "g.cm": ("oz.in", 1),
    "oz.in": ("g.mm", 2),
    "g/m2": ("lb/1000ft2", 0),
    "lb/1000ft2": ("g/m2", 1),
    "kg/m3": ("lb/ft3", 0),
    "g/cm3": ("lb/ft3", 3),
    "lb/ft3": ("kg/m3", 1),
    "mm2": ("in2", 0),
    "cm2": ("in2", 1),
    "m2": ("ft2", 3),
    "in2": ("mm2", 2),
    "ft2": ("m2", 2),
    "kW": ("hp", 1),
    "hp": ("kW", 1),
    "mm/s": ("in/s", 1),
    "in/s": ("mm/s", 2),
}
_DECIMALS = {"deg": 2, "%": 1, "pcs": 0, "rpm": 0, "s": 0, "min": 1, "h": 1, "d": 1}

_first: ContextVar[Callable[[], str]] = ContextVar("first", default=lambda: METRIC)


@register.filter
def plain(value: Number | None) -> str:
    """Spell a number without exponent and without zeros that say nothing.

    >>> plain(Decimal("12.700000"))
    '12.7'
    """
    if value is None:
        return NOTHING
    text = f"{Decimal(str(value)):f}"
    return (text.rstrip("0").rstrip(".") if "." in text else text).replace("-", MINUS)


@register.filter
def unit_name(unit: str) -> str:
    """Spell a unit's symbol as it is printed: ``lbf.ft`` is lbf·ft."""
    return SPELLED.get(unit, unit)


@register.filter
def both(value: Number | None, unit: str) -> str:
    """Spell a value in its unit, and beside it in the other system's unit.

    >>> both(Decimal("80"), "psi")
    '80 psi (552 kPa)'
    """
    if value is None:
        return NOTHING
    own = one(value, unit)
    if unit not in PAIRS:
        return own
    other, _ = PAIRS[unit]
    exact = convert(_decimal(value), unit, other)
    return f"{own} ({one(float(exact), other)})"


@contextmanager
def units_first(chosen: Callable[[], str]) -> Iterator[None]:
    """Spell lengths, masses and the like by a shop's choice, asked when needed."""
    token = _first.set(chosen)
    try:
        yield
    finally:
        _first.reset(token)


@register.filter
def one(value: Number | None, unit: str) -> str:
    """Spell a value in its unit only: digits as read, a computed one rounded."""
    if value is None:
        return NOTHING
    if isinstance(value, float):
        decimals = PAIRS[unit][1] if unit in PAIRS else _DECIMALS.get(unit, 3)
        number = _rounded(value, decimals)
    else:
        number = plain(value)
    name = unit_name(unit)
    if not name:
        return number
    return f"{number}{name}" if unit == "deg" else f"{number} {name}"


@register.filter
def length(mm: Number | None, first: str = "") -> str:
    """Spell a length in millimetres and inches; `first` is "metric" or "inch".

    Without it, as the shop has chosen: see `units_first`.
    """
    return _ordered(mm, "mm", "in", first)


@register.filter
def pressure(pa: Number | None, first: str = "") -> str:
    """Spell a pressure, given in pascals, in megapascals and psi."""
    value = None if pa is None else float(pa) / 1e6
    return _ordered(value, "MPa", "psi", first)


@register.filter
def torque(nm: Number | None, first: str = "") -> str:
    """Spell a torque in newton metres and foot pounds."""
    return _ordered(nm, "N.m", "lbf.ft", first)


@register.filter
def mass(g: Number | None, first: str = "") -> str:
    """Spell a mass in grams and ounces; from a kilogram on, in pounds."""
    if g is None or abs(float(g)) < KILOGRAM_G:
        return _ordered(g, "g", "oz", first)
    pounds = one(float(convert(_decimal(g), "g", "lb")), "lb")
    return _pair(one(g, "g"), pounds, first)


@register.filter
def moment(g_mm: Number | None, first: str = "") -> str:
    """Spell a static unbalance in gram millimetres and ounce inches."""
    return _ordered(g_mm, "g.mm", "oz.in", first)


@register.filter
def temperature(celsius: Number | None, first: str = "") -> str:
    """Spell a temperature in degrees Celsius and Fahrenheit."""
    return _ordered(celsius, "degC", "degF", first)


@register.filter
def when(at: dt.datetime | None) -> str:
    """Spell a moment in the shop's zone: 4 Mar 2026, 14:05."""
    if at is None:
        return NOTHING
    local = timezone.localtime(at)
    return f"{day(local.date())}, {local:%H:%M}"


@register.filter
def day(on: dt.date | None) -> str:
    """Spell a day with its month's name, which is read alike everywhere."""
    return NOTHING if on is None else f"{on.day} {MONTHS[on.month - 1]} {on.year}"


def _ordered(value: Number | None, metric: str, inch: str, first: str) -> str:
    if value is None:
        return NOTHING
    other = one(float(convert(_decimal(value), metric, inch)), inch)
    return _pair(one(value, metric), other, first)


def _pair(metric: str, inch: str, first: str) -> str:
    shown = first or _first.get()()
    return f"{inch} ({metric})" if shown == "inch" else f"{metric} ({inch})"


def _rounded(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    return (text.lstrip("-") if float(text) == 0 else text).replace("-", MINUS)


def _decimal(value: Number) -> Decimal:
    return value if isinstance(value, Decimal) else Decimal(repr(float(value)))
