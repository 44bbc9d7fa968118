"""Straight-line interpolation in a table that is never carried past its ends."""

from bisect import bisect_left
from collections.abc import Sequence

from records.engineering.validity import at_least, finite, increasing, within


def interpolate(
    points: Sequence[tuple[float, float]], at: float, name: str, unit: str
) -> float:
    """Read a table between its points, on the straight line from each to the next.

    Parameters
    ----------
    points : Sequence[tuple[float, float]]
        Pairs of argument and value, arguments rising [`unit`, unit of the value].
    at : float
        Argument at which to read [`unit`].
    name : str
        What the argument is, for the sentence of a refusal [-].
    unit : str
        Unit of the argument [-].

    Returns
    -------
    float
        Value at the argument [unit of the value].

    Raises
    ------
    ValueError
        If the table is empty or does not rise, a number is not finite, or the
        argument is outside the table.

    References
    ----------
    Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 25.2.1 (from
    memory): linear interpolation.

    Examples
    --------
    >>> interpolate([(10, 11.0), (12, 14.0)], 11, "meter reading", "%")
    12.5
    """
    at_least(f"points in the table of {name}", points, 1)
    arguments = [point[0] for point in points]
    increasing(f"{name} in the table", arguments, unit)
    values = [finite(f"value in the table of {name}", point[1]) for point in points]
    number = within(name, at, arguments[0], arguments[-1], unit)
    right = bisect_left(arguments, number)
    if arguments[right] == number:
        return values[right]
    left = right - 1
    share = (number - arguments[left]) / (arguments[right] - arguments[left])
    return values[left] * (1 - share) + values[right] * share
