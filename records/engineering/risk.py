"""The chance that inspection accepts a bad part or rejects a good one.

Process and measurement are taken as normal, the measurement as unbiased. These are
*global* risks, over all parts the process makes; what is known of one part whose
reading is at hand is `decision.judge`'s probability of conformity.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from statistics import NormalDist
from typing import Final

from records.engineering.validity import finite, not_negative, positive

_STANDARD_NORMAL: Final = NormalDist()
# Beyond this many standard deviations a normal tail is under 1e-15.
_REACH: Final = 8


@dataclass(frozen=True, slots=True)
class DecisionRisk:
    """Global risks of accepting and rejecting by measurement.

    Attributes
    ----------
    false_accept : float
        Probability that a part is outside its limits and accepted [-]
    false_reject : float
        Probability that a part is inside its limits and rejected [-]
    """

    false_accept: float
    false_reject: float


def decision_risk(
    *,
    process_mean: float,
    process_deviation: float,
    standard_uncertainty: float,
    low: float | None,
    high: float | None,
    guard_band: float = 0.0,
) -> DecisionRisk:
    """Compute the global risks of false acceptance and false rejection.

    Parameters
    ----------
    process_mean : float
        Mean of the parts made [unit of reading]
    process_deviation : float
        Standard deviation of the parts made, above 0 [unit of reading]
    standard_uncertainty : float
        Standard uncertainty of one measurement, above 0 [unit of reading]
    low : float or None
        Lower limit, None when there is none [unit of reading]
    high : float or None
        Upper limit, None when there is none [unit of reading]
    guard_band : float
        Distance kept inside each limit when accepting [unit of reading]

    Returns
    -------
    DecisionRisk
        Both probabilities [-]

    Raises
    ------
    ValueError
        No limit, limits that leave nothing to accept, or a number that is not finite
        or is out of its range.

    References
    ----------
    JCGM 106:2012, 9.5.2 (global consumer's and producer's risk; clause and example
    inputs from memory).

    Examples
    --------
    The resistors of JCGM 106, worked to 0.0189 and 0.0372:

    >>> resistor = decision_risk(
    ...     process_mean=0, process_deviation=0.12, standard_uncertainty=0.04,
    ...     low=-0.2, high=0.2,
    ... )
    >>> resistor.false_accept, resistor.false_reject
    (0.0189, 0.0372)
    """
    process = NormalDist(
        finite("process mean", process_mean),
        positive("process deviation", process_deviation, "-"),
    )
    uncertainty = positive("standard uncertainty", standard_uncertainty, "-")
    guard = not_negative("guard band", guard_band, "-")
    lowest, highest = _limits(low, high, guard)

    def accepted(part: float) -> float:
        below = _STANDARD_NORMAL.cdf((highest - guard - part) / uncertainty)
        return below - _STANDARD_NORMAL.cdf((lowest + guard - part) / uncertainty)

    lines = (lowest, lowest + guard, highest - guard, highest)
    accept, reject = 0.0, 0.0
    for start, end in pairwise(_edges(process, uncertainty, lines)):
        if lowest <= (start + end) / 2 <= highest:
            reject += _mass(process, lambda part: 1 - accepted(part), start, end)
        else:
            accept += _mass(process, accepted, start, end)
    return DecisionRisk(accept, reject)


def worst_false_accept(guard_band: float, standard_uncertainty: float) -> float:
    """Compute the chance that a part read just at the acceptance limit is bad.

    Nothing is known of the process here, and the far limit is out of reach.

    Parameters
    ----------
    guard_band : float
        Distance of the acceptance limit inside the limit [unit of reading]
    standard_uncertainty : float
        Standard uncertainty of the reading, above 0 [unit of reading]

    Returns
    -------
    float
        Probability that the part lies beyond the limit [-]

    Raises
    ------
    ValueError
        A guard band below 0 or an uncertainty not above 0.

    References
    ----------
    JCGM 106:2012, 8.3 (guard bands); ILAC-G8:09/2019 gives 50 % without a guard band
    and under 2.5 % for one of the expanded uncertainty (k = 2).

    Examples
    --------
    >>> worst_false_accept(0.0, 0.1), worst_false_accept(0.2, 0.1)
    (0.5, 0.02275)
    """
    guard = not_negative("guard band", guard_band, "-")
    uncertainty = positive("standard uncertainty", standard_uncertainty, "-")
    return math.erfc(guard / uncertainty / math.sqrt(2)) / 2


def _limits(low: float | None, high: float | None, guard: float) -> tuple[float, float]:
    if low is None and high is None:
        raise ValueError("no limit is given: state a lower limit, an upper, or both")
    lowest = -math.inf if low is None else finite("lower limit", low)
    highest = math.inf if high is None else finite("upper limit", high)
    if lowest + guard >= highest - guard:
        raise ValueError(
            f"limits {lowest} to {highest} leave nothing to accept within a guard "
            f"band of {guard}"
        )
    return lowest, highest


def _edges(
    process: NormalDist, uncertainty: float, lines: tuple[float, ...]
) -> list[float]:
    """Return where to cut the parts made so that each piece is smooth."""
    steps = range(-_REACH, _REACH + 1)
    edges = {process.mean + step * process.stdev for step in steps}
    first, last = min(edges), max(edges)
    for line in lines:
        edges.update(line + step * uncertainty for step in steps)
    return sorted(edge for edge in edges if first <= edge <= last)


def _mass(
    process: NormalDist, share: Callable[[float], float], start: float, end: float
) -> float:
    """Return the probability of a part in the piece, weighted by a share."""
    middle, half = (start + end) / 2, (end - start) / 2
    parts = [(middle + half * node, weight) for node, weight in _gauss_legendre()]
    return half * sum(w * process.pdf(part) * share(part) for part, w in parts)


@cache
def _gauss_legendre() -> tuple[tuple[float, float], ...]:
    """Return nodes and weights, exact on a piece of one standard deviation."""
    from scipy.special import (  # noqa: PLC0415
        roots_legendre,
    )

    nodes, weights = roots_legendre(20)
    return tuple(zip(nodes.tolist(), weights.tolist(), strict=True))
