"""Exact conversion between the units a shop uses.

A reading stays ``Decimal`` as it was entered. Conversions are made with fractions,
so that a reading exactly on a limit is still exactly on it in another unit.
"""

from decimal import Decimal, localcontext
from fractions import Fraction

from records.engineering.number_text import parse_number
from records.engineering.quantity_text import parse_quantity
from records.engineering.unit_table import Unit, dimension, find_unit, units_of
from records.engineering.validity import finite

__all__ = [
    "compare",
    "convert",
    "convert_difference",
    "dimension",
    "from_si",
    "parse_number",
    "parse_quantity",
    "to_si",
    "units_of",
]
_LONGEST = 60
_ROUNDED_TO = 34


def convert(value: Decimal, from_unit: str, to_unit: str) -> Decimal:
    """Convert a value from one unit to another of the same dimension.

    The result is exact where a decimal of up to 60 digits can hold it, otherwise
    rounded to 34 digits. In the same unit the value comes back digit for digit.

    Parameters
    ----------
    value : Decimal
        Value to convert [`from_unit`].
    from_unit : str
        Symbol of its unit [-].
    to_unit : str
        Symbol of the unit wanted [-].

    Returns
    -------
    Decimal
        The same quantity [`to_unit`].

    Raises
    ------
    ValueError
        If a unit is unknown, the dimensions differ, the value is not finite or has
        more than 60 digits, or a temperature is below absolute zero.

    References
    ----------
    NIST SP 811 (2008), Appendix B: 1 in = 25.4 mm, 1 lb = 0.453 592 37 kg, standard
    gravity 9.806 65 m/s2, all exact.

    Examples
    --------
    >>> convert(Decimal("0.0625"), "in", "mm")
    Decimal('1.5875')
    """
    target = _same_dimension(from_unit, to_unit)
    exact = _exact(value, from_unit)
    if from_unit == to_unit:
        return value
    return _as_decimal((exact - target.offset) / target.factor)


def convert_difference(value: Decimal, from_unit: str, to_unit: str) -> Decimal:
    """Convert a difference: a tolerance, a spread or an uncertainty.

    It differs from `convert` for degC and degF, whose zeros are not zero.

    Parameters
    ----------
    value : Decimal
        Difference to convert [`from_unit`].
    from_unit : str
        Symbol of its unit [-].
    to_unit : str
        Symbol of the unit wanted [-].

    Returns
    -------
    Decimal
        The same difference [`to_unit`].

    Raises
    ------
    ValueError
        As for `convert`.

    References
    ----------
    NIST SP 811 (2008), B.8: a difference of 1 degC is 1.8 degF.

    Examples
    --------
    >>> convert_difference(Decimal("2"), "degC", "degF")
    Decimal('3.6')
    """
    target = _same_dimension(from_unit, to_unit)
    exact = _fraction(value) * find_unit(from_unit).factor
    return value if from_unit == to_unit else _as_decimal(exact / target.factor)


def compare(a: Decimal, a_unit: str, b: Decimal, b_unit: str) -> int:
    """Compare two values in different units without rounding either.

    Parameters
    ----------
    a : Decimal
        First value [`a_unit`].
    a_unit : str
        Symbol of its unit [-].
    b : Decimal
        Second value [`b_unit`].
    b_unit : str
        Symbol of its unit [-].

    Returns
    -------
    int
        -1 if the first is less, 0 if they are equal, 1 if it is more [-].

    Raises
    ------
    ValueError
        As for `convert`.

    References
    ----------
    NIST SP 811 (2008), Appendix B, exact factors.

    Examples
    --------
    >>> compare(Decimal("68"), "degF", Decimal("20"), "degC")
    0
    """
    _same_dimension(a_unit, b_unit)
    first, second = _exact(a, a_unit), _exact(b, b_unit)
    return (first > second) - (first < second)


def to_si(value: Decimal | float, unit: str) -> float:
    """Turn a value into the SI unit of its dimension, for calculation.

    Parameters
    ----------
    value : Decimal | float
        Value to turn [`unit`].
    unit : str
        Symbol of its unit [-].

    Returns
    -------
    float
        The float nearest to the exact result [SI unit of the dimension].

    Raises
    ------
    ValueError
        As for `convert`.

    References
    ----------
    NIST SP 811 (2008), Appendix B: 1 psi = 6.894 757 E+03 Pa.

    Examples
    --------
    >>> to_si(Decimal("80"), "psi")
    551580.583
    """
    return float(_exact(value, unit))


def from_si(value: Decimal | float, unit: str) -> float:
    """Turn a calculated value into the unit in which it is shown.

    Parameters
    ----------
    value : Decimal | float
        Value to turn [SI unit of the dimension of `unit`].
    unit : str
        Symbol of the unit wanted [-].

    Returns
    -------
    float
        The float nearest to the exact result [`unit`].

    Raises
    ------
    ValueError
        If the unit is unknown, the value is not finite or has more than 60 digits,
        or a temperature is below absolute zero.

    References
    ----------
    NIST SP 811 (2008), Appendix B: 1 psi = 6.894 757 E+03 Pa.

    Examples
    --------
    >>> from_si(1e6, "psi")
    145.0377
    """
    target = find_unit(unit)
    exact = _exact(value, units_of(target.dimension)[0])
    return float((exact - target.offset) / target.factor)


def _same_dimension(from_unit: str, to_unit: str) -> Unit:
    source, target = find_unit(from_unit), find_unit(to_unit)
    if source.dimension != target.dimension:
        raise ValueError(
            f"{from_unit} measures {source.dimension} and {to_unit} measures "
            f"{target.dimension}; choose a unit of {source.dimension}"
        )
    return target


def _exact(value: Decimal | float, symbol: str) -> Fraction:
    unit = find_unit(symbol)
    result = _fraction(value) * unit.factor + unit.offset
    if unit.dimension == "temperature" and result < 0:
        raise ValueError(f"temperature {value} {symbol} is below absolute zero")
    return result


def _fraction(value: Decimal | float) -> Fraction:
    if isinstance(value, Decimal) and value.is_finite():
        _, digits, exponent = value.as_tuple()
        # A huge exponent would make an integer that fills the memory.
        if len(digits) > _LONGEST or not -_LONGEST <= int(exponent) <= _LONGEST:
            raise ValueError(f"a value has at most {_LONGEST} digits; got {value:.6g}")
        return Fraction(value)
    finite("value", value)
    return Fraction(value)


def _as_decimal(value: Fraction) -> Decimal:
    rest, places = value.denominator, 0
    for prime in (2, 5):
        count = 0
        while rest % prime == 0:
            rest, count = rest // prime, count + 1
        places = max(places, count)
    if rest == 1:
        scaled = abs(value.numerator) * 10**places // value.denominator
        digits = tuple(int(digit) for digit in str(scaled))
        if len(digits) <= _LONGEST:
            return Decimal((int(value < 0), digits, -places))
    with localcontext(prec=_ROUNDED_TO):
        return Decimal(value.numerator) / Decimal(value.denominator)
