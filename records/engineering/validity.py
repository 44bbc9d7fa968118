"""Checks that every calculation makes on what it is given.

A value outside its range is refused with a sentence: it is never clamped, and no
table or formula is carried past the range in which its source holds.
"""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import SupportsFloat


def spelled(value: float, unit: str) -> str:
    """Spell a value with its unit, without a needless decimal.

    Parameters
    ----------
    value : float
        Value to spell [any unit].
    unit : str
        Its unit; ``"-"`` or ``"1"`` for a bare number [-].

    Returns
    -------
    str
        The value, a blank and the unit [-].

    References
    ----------
    ISO 80000-1:2022, 7.2.1: a space stands between value and unit (from memory).

    Examples
    --------
    >>> spelled(105.0, "%")
    '105 %'
    >>> spelled(0.25, "-")
    '0.25'
    """
    number = repr(float(value)).removesuffix(".0")
    return number if unit in {"-", "1", ""} else f"{number} {unit}"


def finite(name: str, value: SupportsFloat) -> float:
    """Refuse what is not a finite number.

    Parameters
    ----------
    name : str
        What the value is, as the reader knows it [-].
    value : SupportsFloat
        Value to check [any unit].

    Returns
    -------
    float
        The same value [unit of `value`].

    Raises
    ------
    ValueError
        If the value is NaN, infinite or too large for a float.

    References
    ----------
    IEEE 754-2019, 3.3: NaN and infinity are not numbers that a gauge can show.

    Examples
    --------
    >>> finite("mass", 12)
    12.0
    """
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise ValueError(f"{name} {number} is not a finite number; enter a value")
    return number


def within(
    name: str, value: SupportsFloat, low: float, high: float, unit: str
) -> float:
    """Refuse a value outside a closed range; both edges are inside.

    Parameters
    ----------
    name : str
        What the value is, as the reader knows it [-].
    value : SupportsFloat
        Value to check [`unit`].
    low : float
        Lowest value allowed [`unit`].
    high : float
        Highest value allowed [`unit`].
    unit : str
        Unit of the three, ``"-"`` for a bare number [-].

    Returns
    -------
    float
        The same value [`unit`].

    Raises
    ------
    ValueError
        If the value is not finite, or below `low`, or above `high`.

    References
    ----------
    Convention of this package: refuse, never clamp.

    Examples
    --------
    >>> within("relative humidity", 105, 0, 100, "%")
    Traceback (most recent call last):
    ValueError: relative humidity 105 % is outside 0 to 100 %
    """
    number = finite(name, value)
    if not low <= number <= high:
        reach = f"{low:.6g} to {spelled(float(f'{high:.6g}'), unit)}"
        raise ValueError(f"{name} {spelled(number, unit)} is outside {reach}")
    return number


def positive(name: str, value: SupportsFloat, unit: str) -> float:
    """Refuse a value that is not above zero.

    Parameters
    ----------
    name : str
        What the value is, as the reader knows it [-].
    value : SupportsFloat
        Value to check [`unit`].
    unit : str
        Its unit, ``"-"`` for a bare number [-].

    Returns
    -------
    float
        The same value [`unit`].

    Raises
    ------
    ValueError
        If the value is not finite, or zero, or negative.

    References
    ----------
    Convention of this package: refuse, never clamp.

    Examples
    --------
    >>> positive("glued area", 0, "m2")
    Traceback (most recent call last):
    ValueError: glued area 0 m2 must be above 0 m2
    """
    number = finite(name, value)
    if number <= 0:
        zero = spelled(0, unit)
        raise ValueError(f"{name} {spelled(number, unit)} must be above {zero}")
    return number


def not_negative(name: str, value: SupportsFloat, unit: str) -> float:
    """Refuse a value below zero; zero itself is allowed.

    Parameters
    ----------
    name : str
        What the value is, as the reader knows it [-].
    value : SupportsFloat
        Value to check [`unit`].
    unit : str
        Its unit, ``"-"`` for a bare number [-].

    Returns
    -------
    float
        The same value [`unit`].

    Raises
    ------
    ValueError
        If the value is not finite, or negative.

    References
    ----------
    Convention of this package: refuse, never clamp.

    Examples
    --------
    >>> not_negative("mass", 0, "g")
    0.0
    """
    number = finite(name, value)
    if number < 0:
        raise ValueError(f"{name} {spelled(number, unit)} must not be negative")
    return number


def at_least(name: str, values: Sequence[object], count: int) -> None:
    """Refuse too short a list.

    Parameters
    ----------
    name : str
        What the list holds, in the plural [-].
    values : Sequence[object]
        The list [any unit].
    count : int
        Fewest items that give an answer [pieces].

    Returns
    -------
    None
        Nothing: it raises or passes [-].

    Raises
    ------
    ValueError
        If there are fewer than `count` items.

    References
    ----------
    Convention of this package: an empty list is an error, never a zero.

    Examples
    --------
    >>> at_least("moisture readings", [], 1)
    Traceback (most recent call last):
    ValueError: moisture readings: 0 given, at least 1 needed
    """
    if len(values) < count:
        raise ValueError(f"{name}: {len(values)} given, at least {count} needed")


def increasing(name: str, values: Iterable[SupportsFloat], unit: str) -> None:
    """Refuse a list that does not rise strictly from each item to the next.

    Parameters
    ----------
    name : str
        What the list holds, in the plural [-].
    values : Iterable[SupportsFloat]
        The list [`unit`].
    unit : str
        Unit of its items, ``"-"`` for bare numbers [-].

    Returns
    -------
    None
        Nothing: it raises or passes [-].

    Raises
    ------
    ValueError
        If an item is not finite or not above the one before it.

    References
    ----------
    Convention of this package: a table is read in one direction.

    Examples
    --------
    >>> increasing("table temperatures", [20, 30, 25], "degC")
    Traceback (most recent call last):
    ValueError: table temperatures must rise: 25 degC follows 30 degC
    """
    numbers = [finite(name, value) for value in values]
    for before, after in pairwise(numbers):
        if after <= before:
            raise ValueError(
                f"{name} must rise: {spelled(after, unit)} follows "
                f"{spelled(before, unit)}"
            )
