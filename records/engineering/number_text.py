"""Numbers as people type them."""

import re
from decimal import Decimal, Inexact, localcontext

_LONGEST_TEXT = 60
_MOST_DIGITS = 24
_DECIMAL = re.compile(r"[+-]?(?:[0-9]+[.,]?[0-9]*|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,9})?")
_FRACTION = re.compile(r"([+-]?)(?:([0-9]+) +)?([0-9]+) ?/ ?([0-9]+)")
_THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}")


def parse_number(text: str) -> Decimal:
    """Read a number as a person types it, digit for digit.

    A point or a comma marks the decimals. Common fractions are read when a decimal
    can hold them exactly. Where a comma might separate thousands (``12,125``) the
    text is refused rather than guessed.

    Parameters
    ----------
    text : str
        What was typed [-].

    Returns
    -------
    Decimal
        The number [unit of the field].

    Raises
    ------
    ValueError
        If the text is empty, no number, ambiguous or longer than 24 digits.

    References
    ----------
    ISO 80000-1:2022, 7.3: the decimal sign is a comma or a point (from memory).

    Examples
    --------
    >>> parse_number(" 10,3 ")
    Decimal('10.3')
    >>> parse_number("2 3/8")
    Decimal('2.375')
    """
    typed = text.strip()
    if not typed:
        raise ValueError("nothing was entered; enter a number such as 10.3")
    if len(typed) > _LONGEST_TEXT:
        raise ValueError(f"{typed[:12]}... is too long for a number")
    plain = typed.replace("\N{MINUS SIGN}", "-")
    if _THOUSANDS.fullmatch(plain):
        raise ValueError(
            f"{typed} could be read as {typed.replace(',', '.')} or as "
            f"{typed.replace(',', '')}; write it as {typed.replace(',', '.')} or "
            f"{typed}0, or without the comma"
        )
    if _DECIMAL.fullmatch(plain):
        return _short_enough(typed, Decimal(plain.replace(",", ".")))
    if match := _FRACTION.fullmatch(plain):
        return _short_enough(typed, _from_fraction(typed, *match.groups()))
    raise ValueError(f"{typed!r} is not a number; enter it as 10.3, 10,3 or 2 3/8")


def _short_enough(typed: str, number: Decimal) -> Decimal:
    _, digits, exponent = number.as_tuple()
    places = int(exponent)
    if max(len(digits), -places, len(digits) + places) > _MOST_DIGITS:
        raise ValueError(f"{typed} has more than {_MOST_DIGITS} digits")
    return number


def _from_fraction(
    typed: str, sign: str, whole: str | None, top: str, bottom: str
) -> Decimal:
    numerator, denominator = Decimal(top), Decimal(bottom)
    if not denominator:
        raise ValueError(f"{typed} divides by zero: write another fraction")
    if whole and numerator >= denominator:
        raise ValueError(f"{typed} is not a mixed number: {top}/{bottom} is 1 or more")
    with localcontext(prec=_MOST_DIGITS) as context:
        context.traps[Inexact] = True
        try:
            number = Decimal(whole or 0) + numerator / denominator
        except Inexact:
            raise ValueError(
                f"{typed} has no exact decimal; enter the decimals that were read"
            ) from None
    return -number if sign == "-" else number
