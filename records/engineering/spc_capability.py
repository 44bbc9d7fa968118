"""Capability of a process against its limits, with how well it is known.

The indices describe a process in control and near normal; see `spc_rules` first.
"""

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

from records.engineering.validity import at_least, finite, positive, within

CONFIDENCES: Final = (0.5, 0.9999)
_NOISE: Final = 1e-12
_STANDARD_NORMAL: Final = NormalDist()


@dataclass(frozen=True, slots=True)
class Limits:
    """The limits of a part, on one side or both.

    Attributes
    ----------
    low : float or None
        Lower limit, None when there is none [unit of reading]
    high : float or None
        Upper limit, None when there is none [unit of reading]
    target : float or None
        Value aimed at, within the limits [unit of reading]
    """

    low: float | None
    high: float | None
    target: float | None = None

    def __post_init__(self) -> None:
        """Refuse limits that are missing, not finite or crossed."""
        if self.low is None and self.high is None:
            raise ValueError("no limit is given: state a lower, an upper, or both")
        low = -math.inf if self.low is None else finite("lower limit", self.low)
        high = math.inf if self.high is None else finite("upper limit", self.high)
        if low >= high:
            raise ValueError(f"lower limit {low} must be below upper limit {high}")
        if self.target is not None:
            within("target", self.target, low, high, "-")

    def noise(self, mean: float) -> float:
        """Return the spread below which readings differ by arithmetic only."""
        return _NOISE * max(abs(mean), abs(self.low or 0.0), abs(self.high or 0.0))


@dataclass(frozen=True, slots=True)
class Index:
    """A capability index with its confidence interval.

    Attributes
    ----------
    value : float
        Estimate [-]
    low : float
        Lower end of the interval [-]
    high : float
        Upper end of the interval [-]
    """

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Indices:
    """The capability indices that the limits allow.

    Attributes
    ----------
    cp : Index or None
        Width of the limits over 6 standard deviations; needs both limits [-]
    cpl : float or None
        Distance of the mean from the lower limit over 3 standard deviations [-]
    cpu : float or None
        Distance of the mean from the upper limit over 3 standard deviations [-]
    cpk : Index
        The smaller of `cpl` and `cpu` [-]
    cpm : Index or None
        As `cp`, with the spread about the target; needs both limits and it [-]
    """

    cp: Index | None
    cpl: float | None
    cpu: float | None
    cpk: Index
    cpm: Index | None


def capability_indices(
    mean: float,
    standard_deviation: float,
    points: int,
    limits: Limits,
    *,
    confidence: float = 0.95,
) -> Indices:
    """Compute Cp, Cpk and Cpm with two-sided confidence intervals.

    Parameters
    ----------
    mean : float
        Mean of the readings [unit of reading]
    standard_deviation : float
        Sample standard deviation, above 0 [unit of reading]
    points : int
        Number of readings, at least 2 [-]
    limits : Limits
        Limits, and the target for Cpm [unit of reading]
    confidence : float
        Confidence of the intervals, 0.5 to 0.9999 [-]

    Returns
    -------
    Indices
        Indices and intervals [-]

    Raises
    ------
    ValueError
        A number that is not finite or is out of its range.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6 (indices). Intervals: Cp by
    chi-square and Cpk by the normal approximation, as in R. N. Rodriguez, Journal of
    Quality Technology 24 (1992); Cpm by R. A. Boyles, Journal of Quality Technology
    23 (1991) (from memory).

    Examples
    --------
    The handbook's example, with mean 16 and standard deviation 2 of 50 readings:

    >>> found = capability_indices(16, 2, 50, Limits(8, 20, target=14))
    >>> found.cp.value, found.cpl, found.cpu, found.cpk.value, found.cpm.value
    (1.0, 1.3333, 0.6667, 0.6667, 0.7071)
    >>> found.cpk.low, found.cpk.high
    (0.5055, 0.8278)
    """
    mean = finite("mean", mean)
    deviation = positive("standard deviation", standard_deviation, "-")
    if deviation <= limits.noise(mean):
        raise ValueError(f"standard deviation {deviation} is too small to be a spread")
    at_least("readings", range(points), 2)
    within("confidence", confidence, *CONFIDENCES, "-")
    low, high, target = limits.low, limits.high, limits.target
    cpl = None if low is None else (mean - low) / (3 * deviation)
    cpu = None if high is None else (high - mean) / (3 * deviation)
    cpk = min(side for side in (cpl, cpu) if side is not None)
    cp = cpm = None
    if low is not None and high is not None:
        width = high - low
        cp = _around_cp(width / (6 * deviation), points - 1, confidence)
        if target is not None:
            cpm = _cpm(width, deviation, mean - target, points, confidence)
    return Indices(cp, cpl, cpu, _around_cpk(cpk, points, confidence), cpm)


def fraction_outside(mean: float, standard_deviation: float, limits: Limits) -> float:
    """Compute the share of a normal process that lies beyond its limits.

    Parameters
    ----------
    mean : float
        Mean of the process [unit of reading]
    standard_deviation : float
        Standard deviation of the process, above 0 [unit of reading]
    limits : Limits
        Limits of the part [unit of reading]

    Returns
    -------
    float
        Share outside, 0 to 1 [-]

    Raises
    ------
    ValueError
        A number that is not finite or is out of its range.

    References
    ----------
    Definition of the normal distribution.

    Examples
    --------
    Cpk 1, centred, leaves 2699.8 parts in a million outside:

    >>> 1e6 * fraction_outside(14, 2, Limits(8, 20))
    2699.8
    """
    mean = finite("mean", mean)
    deviation = positive("standard deviation", standard_deviation, "-")
    low = -math.inf if limits.low is None else limits.low
    high = math.inf if limits.high is None else limits.high
    below = _STANDARD_NORMAL.cdf((low - mean) / deviation)
    above = _STANDARD_NORMAL.cdf((mean - high) / deviation)
    return below + above


def _around_cp(value: float, freedom: float, confidence: float) -> Index:
    """Put the chi-square interval of a spread round an index of its inverse."""
    from scipy.special import chdtri  # noqa: PLC0415

    tail = (1 - confidence) / 2
    low = math.sqrt(chdtri(freedom, 1 - tail) / freedom)
    high = math.sqrt(chdtri(freedom, tail) / freedom)
    return Index(value, value * low, value * high)


def _around_cpk(value: float, points: int, confidence: float) -> Index:
    z = _STANDARD_NORMAL.inv_cdf((1 + confidence) / 2)
    reach = z * math.sqrt(1 / (9 * points) + value**2 / (2 * (points - 1)))
    return Index(value, value - reach, value + reach)


def _cpm(
    width: float, deviation: float, offset: float, points: int, confidence: float
) -> Index:
    """Return Cpm with Boyles's interval for a mean `offset` from the target."""
    shift = (offset / deviation) ** 2
    freedom = points * (1 + shift) ** 2 / (1 + 2 * shift)
    return _around_cp(width / (6 * math.hypot(deviation, offset)), freedom, confidence)
