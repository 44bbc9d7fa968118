"""The units a shop uses, each with its exact factor to the SI.

The table holds no rounded figure: inch, pound and standard gravity are exact by
definition (international yard and pound agreement of 1959; ISO 80000), every
other factor is a product or quotient of them. Only the degree of angle needs pi,
kept to fifty decimals.
"""

from dataclasses import dataclass
from fractions import Fraction

_INCH = Fraction("0.0254")
_FOOT = 12 * _INCH
_POUND = Fraction("0.45359237")
_OUNCE = _POUND / 16
_POUND_FORCE = _POUND * Fraction("9.80665")
_PI = Fraction("3.14159265358979323846264338327950288419716939937511")
_MILLI = Fraction(1, 1000)
_CELSIUS_ZERO = Fraction("273.15")
_FAHRENHEIT_STEP = Fraction(5, 9)


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of measurement.

    Attributes
    ----------
    symbol : str
        As it is written on screen and paper [-].
    dimension : str
        What it measures [-].
    factor : Fraction
        SI units in one of this unit [SI unit of the dimension].
    offset : Fraction
        SI value at its zero; not 0 for degC and degF only [SI unit].
    spelling : str
        Its expression in Pint's names; empty where Pint has none [-].
    """

    symbol: str
    dimension: str
    factor: Fraction
    offset: Fraction
    spelling: str


_ROWS: tuple[tuple[str, str, Fraction | int, str], ...] = (
    ("m", "length", 1, "meter"),
    ("mm", "length", _MILLI, "millimeter"),
    ("cm", "length", Fraction(1, 100), "centimeter"),
    ("um", "length", _MILLI**2, "micrometer"),
    ("in", "length", _INCH, "inch"),
    ("ft", "length", _FOOT, "foot"),
    ("thou", "length", _INCH * _MILLI, "thou"),
    ("kg", "mass", 1, "kilogram"),
    ("g", "mass", _MILLI, "gram"),
    ("mg", "mass", _MILLI**2, "milligram"),
    ("oz", "mass", _OUNCE, "ounce"),
    ("lb", "mass", _POUND, "pound"),
    ("N", "force", 1, "newton"),
    ("kN", "force", 1000, "kilonewton"),
    ("lbf", "force", _POUND_FORCE, "force_pound"),
    ("Pa", "pressure", 1, "pascal"),
    ("kPa", "pressure", 1000, "kilopascal"),
    ("MPa", "pressure", 1_000_000, "megapascal"),
    ("GPa", "pressure", 1_000_000_000, "gigapascal"),
    ("bar", "pressure", 100_000, "bar"),
    ("mbar", "pressure", 100, "millibar"),
    ("psi", "pressure", _POUND_FORCE / _INCH**2, "psi"),
    ("K", "temperature", 1, "kelvin"),
    ("degC", "temperature", 1, "degree_Celsius"),
    ("degF", "temperature", _FAHRENHEIT_STEP, "degree_Fahrenheit"),
    ("1", "ratio", 1, ""),
    ("%", "ratio", Fraction(1, 100), "percent"),
    ("pcs", "count", 1, ""),
    ("rad", "angle", 1, "radian"),
    ("deg", "angle", _PI / 180, "degree"),
    ("s", "time", 1, "second"),
    ("min", "time", 60, "minute"),
    ("h", "time", 3600, "hour"),
    ("d", "time", 86400, "day"),
    ("N.m", "torque", 1, "newton * meter"),
    ("lbf.ft", "torque", _POUND_FORCE * _FOOT, "force_pound * foot"),
    ("lbf.in", "torque", _POUND_FORCE * _INCH, "force_pound * inch"),
    ("kg.m", "unbalance", 1, "kilogram * meter"),
    ("g.mm", "unbalance", _MILLI**2, "gram * millimeter"),
    ("g.cm", "unbalance", _MILLI / 100, "gram * centimeter"),
    ("oz.in", "unbalance", _OUNCE * _INCH, "ounce * inch"),
    ("kg/m2", "spread", 1, "kilogram / meter ** 2"),
    ("g/m2", "spread", _MILLI, "gram / meter ** 2"),
    ("lb/1000ft2", "spread", _POUND / (1000 * _FOOT**2), ""),
    ("kg/m3", "density", 1, "kilogram / meter ** 3"),
    ("g/cm3", "density", 1000, "gram / centimeter ** 3"),
    ("lb/ft3", "density", _POUND / _FOOT**3, "pound / foot ** 3"),
    ("m2", "area", 1, "meter ** 2"),
    ("cm2", "area", Fraction(1, 10_000), "centimeter ** 2"),
    ("mm2", "area", _MILLI**2, "millimeter ** 2"),
    ("in2", "area", _INCH**2, "inch ** 2"),
    ("ft2", "area", _FOOT**2, "foot ** 2"),
    ("m3", "volume", 1, "meter ** 3"),
    ("L", "volume", _MILLI, "liter"),
    ("mL", "volume", _MILLI**2, "milliliter"),
    ("bd.ft", "volume", _FOOT**2 * _INCH, "board_foot"),
    ("W", "power", 1, "watt"),
    ("kW", "power", 1000, "kilowatt"),
    ("hp", "power", 550 * _POUND_FORCE * _FOOT, "horsepower"),
    ("r/s", "rotation", 1, ""),
    ("rpm", "rotation", Fraction(1, 60), "revolutions_per_minute"),
    ("m/s", "speed", 1, "meter / second"),
    ("mm/s", "speed", _MILLI, "millimeter / second"),
    ("in/s", "speed", _INCH, "inch / second"),
)
_OFFSETS = {
    "degC": _CELSIUS_ZERO,
    "degF": _CELSIUS_ZERO - 32 * _FAHRENHEIT_STEP,
}

UNITS: dict[str, Unit] = {
    symbol: Unit(
        symbol,
        dimension,
        Fraction(factor),
        _OFFSETS.get(symbol, Fraction(0)),
        spelling,
    )
    for symbol, dimension, factor, spelling in _ROWS
}


def find_unit(symbol: str) -> Unit:
    """Find a unit by its symbol.

    Parameters
    ----------
    symbol : str
        As in the table; capitals matter [-].

    Returns
    -------
    Unit
        Its dimension and factor [see `Unit`].

    Raises
    ------
    ValueError
        If the unit is not in the table.

    References
    ----------
    NIST SP 811 (2008), Appendix B: 1 in = 25.4 mm exactly.

    Examples
    --------
    >>> find_unit("in").factor * 1000
    Fraction(127, 5)
    """
    try:
        return UNITS[symbol]
    except KeyError:
        raise ValueError(
            f"unit {symbol!r} is not known here; use one of {', '.join(UNITS)}"
        ) from None


def dimension(unit: str) -> str:
    """Say what a unit measures.

    Parameters
    ----------
    unit : str
        Symbol of the unit [-].

    Returns
    -------
    str
        Name of the dimension [-].

    Raises
    ------
    ValueError
        If the unit is not in the table.

    References
    ----------
    ISO 80000-1:2022, clause 5 (from memory), with trade names for the shop's own
    dimensions: spread is mass per area, unbalance is mass times radius.

    Examples
    --------
    >>> dimension("psi")
    'pressure'
    """
    return find_unit(unit).dimension


def units_of(dimension: str) -> tuple[str, ...]:
    """List the units of a dimension, its SI unit first.

    Parameters
    ----------
    dimension : str
        Name of the dimension [-].

    Returns
    -------
    tuple[str, ...]
        Symbols of its units [-].

    Raises
    ------
    ValueError
        If no unit has that dimension.

    References
    ----------
    ISO 80000-1:2022, clause 6: the coherent SI unit of each quantity (from memory).

    Examples
    --------
    >>> units_of("torque")
    ('N.m', 'lbf.ft', 'lbf.in')
    """
    symbols = tuple(u.symbol for u in UNITS.values() if u.dimension == dimension)
    if not symbols:
        known = ", ".join(sorted({u.dimension for u in UNITS.values()}))
        raise ValueError(f"dimension {dimension!r} is not one of {known}")
    return symbols
