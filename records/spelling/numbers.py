"""Numbers: no exponent, no zeros that say nothing, a true minus sign."""

from decimal import Decimal
from typing import Final, TypeAlias

Number: TypeAlias = Decimal | float | int
NOTHING: Final = "\N{EN DASH}"
MINUS: Final = "\N{MINUS SIGN}"
BOUND: Final = "\N{NO-BREAK SPACE}"
"""Stands between a number and its unit: a line never breaks there."""


def plain(value: Number | None) -> str:
    """Spell a number without exponent and without zeros that say nothing.

    >>> plain(Decimal("12.700000"))
    '12.7'
    """
    if value is None:
        return NOTHING
    text = f"{Decimal(str(value)):f}"
    return true_minus(text.rstrip("0").rstrip(".") if "." in text else text)


def rounded(value: float, decimals: int) -> str:
    """Spell a computed number with so many decimals; nothing is less than 0 by none.

    >>> rounded(-0.004, 2)
    '0.00'
    """
    text = f"{value:.{decimals}f}"
    return true_minus(text.lstrip("-") if float(text) == 0 else text)


def true_minus(text: str) -> str:
    """Turn the hyphen of a typed number into a minus sign; other text stays.

    >>> true_minus("-1.7") == "\N{MINUS SIGN}1.7"
    True
    """
    return MINUS + text[1:] if text[:1] == "-" and text[1:2].isdigit() else text


def exact(value: Number) -> Decimal:
    """Give a number as the decimal that it is spelled by."""
    return value if isinstance(value, Decimal) else Decimal(repr(float(value)))
