"""Units: how each is printed, its partner in the other system, its decimals."""

from typing import Final

_PRINTED: Final = {
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
_PAIRS: Final[dict[str, tuple[str, int]]] = {
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
_DECIMALS: Final = {
    "deg": 2,
    "%": 1,
    "pcs": 0,
    "rpm": 0,
    "s": 0,
    "min": 1,
    "h": 1,
    "d": 1,
}

_OTHER_DECIMALS: Final = 3
_INCH_POUND: Final = frozenset(
    {
        "in",
        "ft",
        "thou",
        "oz",
        "lb",
        "lbf",
        "psi",
        "degF",
        "lbf.ft",
        "lbf.in",
        "oz.in",
        "lb/1000ft2",
        "lb/ft3",
        "in2",
        "ft2",
        "hp",
        "in/s",
    }
)


def unit_name(unit: str) -> str:
    """Spell a unit's symbol as it is printed: ``lbf.ft`` is lbf·ft."""
    return _PRINTED.get(unit, unit)


def partner(unit: str) -> str | None:
    """Name the other system's unit for a unit; None where both systems share it."""
    pair = _PAIRS.get(unit)
    return pair[0] if pair else None


def decimals(unit: str) -> int:
    """Tell with how many decimals a computed figure is spelled in a unit."""
    pair = _PAIRS.get(unit)
    return pair[1] if pair else _DECIMALS.get(unit, _OTHER_DECIMALS)


def is_inch_pound(unit: str) -> bool:
    """Tell whether a unit belongs to the inch-pound system."""
    return unit in _INCH_POUND
