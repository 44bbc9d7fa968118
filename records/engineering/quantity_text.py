"""Quantities as people type them: a number and a unit in one text."""

import re
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING

from records.engineering.number_text import parse_number
from records.engineering.unit_table import UNITS

if TYPE_CHECKING:
    from pint import UnitRegistry

# Pint reads ft.lb as foot times pound of mass, mil as an angle, F as farad and
# pcs as parsec; on a shop floor they are not.
_SHOP_SPELLINGS = {
    '"': "in",
    "mil": "thou",
    "\N{DEGREE SIGN}": "deg",
    "\N{DEGREE SIGN}C": "degC",
    "\N{DEGREE SIGN}F": "degF",
    "C": "degC",
    "F": "degF",
    "PSI": "psi",
    "ips": "in/s",
    "r/min": "rpm",
    "Nm": "N.m",
    "pieces": "pcs",
    **dict.fromkeys(("ft.lb", "lb.ft", "ft.lbf", "ft-lb"), "lbf.ft"),
    **dict.fromkeys(("in.lb", "lb.in", "in.lbf", "in-lb"), "lbf.in"),
}
_PARTS = re.compile(r"([0-9+.,\N{MINUS SIGN}-](?:[0-9 .,/]*[0-9.,])?)(.+)", re.DOTALL)
_WORD = r"[A-Za-z_]+(?:\*\*[23])?"
_UNIT_TEXT = re.compile(rf"{_WORD}(?:(?: ?[*/] ?| ){_WORD})*")
_LONGEST_UNIT = 40
_MARKS = str.maketrans(
    {
        "\N{MIDDLE DOT}": ".",
        "\N{GREEK SMALL LETTER MU}": "u",
        "\N{MICRO SIGN}": "u",
        "\N{SUPERSCRIPT TWO}": "2",
        "\N{SUPERSCRIPT THREE}": "3",
    }
)


def parse_quantity(text: str) -> tuple[Decimal, str]:
    """Read a number with its unit as a person types them.

    The number is kept digit for digit and the unit as it was meant: nothing is
    converted. Shop spellings come first (``24 ft.lb`` is a torque); every other
    spelling is looked up in Pint, which is loaded only then.

    Parameters
    ----------
    text : str
        What was typed [-].

    Returns
    -------
    tuple[Decimal, str]
        The number [the unit named second] and the unit's symbol [-].

    Raises
    ------
    ValueError
        If the number can't be read, the unit is missing or it is not known here.

    References
    ----------
    Pint 0.25, ``default_en.txt``: names, plurals and prefixes of units.

    Examples
    --------
    >>> parse_quantity("24 ft.lb")
    (Decimal('24'), 'lbf.ft')
    >>> parse_quantity("1 1/2 inches")
    (Decimal('1.5'), 'in')
    """
    parts = _PARTS.fullmatch(text.strip())
    if parts is None:
        raise ValueError(
            f"{text.strip()[:40]!r} is not a number with its unit, such as 10.3 mm"
        )
    number, unit = parts.groups()
    return parse_number(number), _symbol(unit.strip())


def _symbol(typed: str) -> str:
    plain = " ".join(typed.translate(_MARKS).split())
    tight = re.sub(r"(?<=[0-9/\N{DEGREE SIGN}]) | (?=/)", "", plain)
    for spelling in (tight, plain.replace(" ", ".")):
        shop = _SHOP_SPELLINGS.get(spelling, spelling)
        if shop in UNITS:
            return shop
    symbol = _symbol_from_pint(plain) if len(plain) <= _LONGEST_UNIT else None
    if symbol is None:
        raise ValueError(
            f"unit {typed[:_LONGEST_UNIT]!r} is not known here; use one of "
            f"{', '.join(UNITS)}"
        )
    return symbol


def _symbol_from_pint(plain: str) -> str | None:
    expression = re.sub(r"(?<=[A-Za-z])\.(?=[A-Za-z])", "*", plain)
    expression = re.sub(r"(?:\^|(?<=[A-Za-z]))([23])(?![0-9])", r"**\1", expression)
    # Pint evaluates what it is given: only words, products and small powers go in.
    if not _UNIT_TEXT.fullmatch(expression):
        return None
    known, registry = _pint_units()
    try:
        return known.get(str(registry.parse_units(expression)))
    except (AttributeError, ValueError):
        return None


@cache
def _pint_units() -> "tuple[dict[str, str], UnitRegistry[Decimal]]":
    from pint import UnitRegistry  # noqa: PLC0415 - takes a third of a second

    registry: UnitRegistry[Decimal] = UnitRegistry(non_int_type=Decimal)
    known = {
        str(registry.parse_units(unit.spelling)): unit.symbol
        for unit in UNITS.values()
        if unit.spelling
    }
    return known, registry
