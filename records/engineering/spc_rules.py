"""Run rules: patterns of readings that chance would seldom draw.

Both published sets are built from four patterns. A point is *beyond* a line when it
lies farther from the centre; a point on a line is neither beyond nor within it. The
position named is that of the reading that completes the pattern, counted from 0.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from records.engineering.validity import at_least, finite, positive

# A reading nearer than this to a line, in sigmas, is on it: arithmetic noise only.
_ON_LINE: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Signal:
    """A reading that completes a pattern.

    Attributes
    ----------
    position : int
        Place of the reading in the series, from 0 [-]
    rule : str
        Pattern, in words [-]
    """

    position: int
    rule: str


@dataclass(frozen=True, slots=True)
class _Rule:
    name: str
    points: int
    completes: Callable[[Sequence[float]], bool]


def western_electric(
    readings: Sequence[float], *, centre: float, sigma: float
) -> tuple[Signal, ...]:
    """Find the patterns of the four Western Electric rules.

    One beyond 3 sigma; 2 of 3 beyond 2 sigma on one side; 4 of 5 beyond 1 sigma on
    one side; 8 in a row on one side.

    Parameters
    ----------
    readings : sequence of float
        At least one reading, in the order made [unit of reading]
    centre : float
        Centre line [unit of reading]
    sigma : float
        Standard deviation of single readings, above 0 [unit of reading]

    Returns
    -------
    tuple of Signal
        Signals by position and rule, in order [-]

    Raises
    ------
    ValueError
        No reading, a number that is not finite, or a sigma of 0 or less.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2 (WECO rules).

    Examples
    --------
    >>> western_electric([50.1, 56.2], centre=50, sigma=2)
    (Signal(position=1, rule='one beyond 3 sigma'),)
    """
    return _signals(_WESTERN_ELECTRIC, readings, centre, sigma)


def nelson(
    readings: Sequence[float], *, centre: float, sigma: float
) -> tuple[Signal, ...]:
    """Find the patterns of Nelson's eight rules.

    One beyond 3 sigma; 9 in a row on one side; 6 in a row rising or falling; 14 in a
    row alternating; 2 of 3 beyond 2 sigma on one side; 4 of 5 beyond 1 sigma on one
    side; 15 in a row within 1 sigma; 8 in a row beyond 1 sigma, on both sides.

    Parameters
    ----------
    readings : sequence of float
        At least one reading, in the order made [unit of reading]
    centre : float
        Centre line [unit of reading]
    sigma : float
        Standard deviation of single readings, above 0 [unit of reading]

    Returns
    -------
    tuple of Signal
        Signals by position and rule, in order [-]

    Raises
    ------
    ValueError
        No reading, a number that is not finite, or a sigma of 0 or less.

    References
    ----------
    L. S. Nelson, "The Shewhart Control Chart: Tests for Special Causes", Journal of
    Quality Technology 16 (1984) 237-239 (citation from memory).

    Examples
    --------
    >>> nelson([50.1, 50.2, 50.3, 50.4, 50.5, 50.6], centre=50, sigma=2)
    (Signal(position=5, rule='6 in a row rising or falling'),)
    """
    return _signals(_NELSON, readings, centre, sigma)


def _signals(
    rules: Sequence[_Rule], readings: Sequence[float], centre: float, sigma: float
) -> tuple[Signal, ...]:
    centre, sigma = finite("centre", centre), positive("sigma", sigma, "-")
    distances = [(finite("reading", x) - centre) / sigma for x in readings]
    at_least("readings", distances, 1)
    return tuple(
        Signal(position, rule.name)
        for position in range(len(distances))
        for rule in rules
        if rule.completes(distances[max(0, position + 1 - rule.points) : position + 1])
    )


def _beyond(count: int, line: float) -> Callable[[Sequence[float]], bool]:
    """Test for the newest and others beyond a line on one side.

    "2 of 3" is complete as soon as two are there: a third reading cannot undo it.
    """

    def completes(window: Sequence[float]) -> bool:
        side = 1 if window[-1] > 0 else -1
        beyond = [side * z > line + _ON_LINE for z in window]
        return beyond[-1] and sum(beyond) >= count

    return completes


def _trending(window: Sequence[float]) -> bool:
    return len(window) == 6 and abs(sum(_directions(window))) == 5


def _alternating(window: Sequence[float]) -> bool:
    turns = pairwise(_directions(window))
    return len(window) == 14 and all(before * after < 0 for before, after in turns)


def _within_one_sigma(window: Sequence[float]) -> bool:
    return len(window) == 15 and all(abs(z) < 1 - _ON_LINE for z in window)


def _beyond_one_sigma_both_sides(window: Sequence[float]) -> bool:
    beyond = all(abs(z) > 1 + _ON_LINE for z in window)
    return len(window) == 8 and beyond and min(window) < 0 < max(window)


def _directions(window: Sequence[float]) -> list[int]:
    """Return 1, -1 or 0 for each step up, down or level."""
    steps = [after - before for before, after in pairwise(window)]
    return [(step > _ON_LINE) - (step < -_ON_LINE) for step in steps]


_ONE_BEYOND_THREE: Final = _Rule("one beyond 3 sigma", 1, _beyond(1, 3))
_TWO_OF_THREE: Final = _Rule("2 of 3 beyond 2 sigma on one side", 3, _beyond(2, 2))
_FOUR_OF_FIVE: Final = _Rule("4 of 5 beyond 1 sigma on one side", 5, _beyond(4, 1))
_WESTERN_ELECTRIC: Final = (
    _ONE_BEYOND_THREE,
    _TWO_OF_THREE,
    _FOUR_OF_FIVE,
    _Rule("8 in a row on one side", 8, _beyond(8, 0)),
)
_NELSON: Final = (
    _ONE_BEYOND_THREE,
    _Rule("9 in a row on one side", 9, _beyond(9, 0)),
    _Rule("6 in a row rising or falling", 6, _trending),
    _Rule("14 in a row alternating", 14, _alternating),
    _TWO_OF_THREE,
    _FOUR_OF_FIVE,
    _Rule("15 in a row within 1 sigma", 15, _within_one_sigma),
    _Rule("8 in a row beyond 1 sigma, on both sides", 8, _beyond_one_sigma_both_sides),
)
