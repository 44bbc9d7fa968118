"""Control charts for single readings: individuals, moving range, EWMA, CUSUM.

A shop of this size takes one reading a part, so that the moving range of two
neighbours stands in for the range within a sample. Positions count from 0.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from statistics import fmean
from typing import Final

from records.engineering.validity import at_least, finite, positive, within

# Mean and standard deviation of the range of two standard-normal readings.
_D2: Final = 2 / math.sqrt(math.pi)
_D3: Final = math.sqrt(2 - _D2**2)
_RANGE_FACTOR: Final = 1 + 3 * _D3 / _D2


@dataclass(frozen=True, slots=True)
class IndividualsChart:
    """Limits of an individuals and moving range chart.

    Attributes
    ----------
    centre : float
        Mean of the readings [unit of reading]
    sigma : float
        Standard deviation estimated from the mean moving range [unit of reading]
    low : float
        Lower control limit of the readings [unit of reading]
    high : float
        Upper control limit of the readings [unit of reading]
    moving_ranges : tuple of float
        Differences between neighbours, without sign [unit of reading]
    mean_range : float
        Mean moving range [unit of reading]
    range_high : float
        Upper control limit of the moving ranges; the lower is 0 [unit of reading]
    """

    centre: float
    sigma: float
    low: float
    high: float
    moving_ranges: tuple[float, ...]
    mean_range: float
    range_high: float


@dataclass(frozen=True, slots=True)
class EwmaChart:
    """An exponentially weighted moving average and its limits.

    Attributes
    ----------
    averages : tuple of float
        Weighted average after each reading [unit of reading]
    lows : tuple of float
        Lower limit at each reading, widening with time [unit of reading]
    highs : tuple of float
        Upper limit at each reading, widening with time [unit of reading]
    low : float
        Lower limit after many readings [unit of reading]
    high : float
        Upper limit after many readings [unit of reading]
    signals : tuple of int
        Positions whose average lies beyond its own limits [-]
    """

    averages: tuple[float, ...]
    lows: tuple[float, ...]
    highs: tuple[float, ...]
    low: float
    high: float
    signals: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class CusumChart:
    """A tabular cumulative sum in both directions.

    Attributes
    ----------
    highs : tuple of float
        Sum of excesses above the target after each reading [unit of reading]
    lows : tuple of float
        Sum of shortfalls below the target after each reading [unit of reading]
    signals : tuple of int
        Positions where either sum exceeds the decision interval [-]
    """

    highs: tuple[float, ...]
    lows: tuple[float, ...]
    signals: tuple[int, ...]


def individuals_chart(readings: Sequence[float]) -> IndividualsChart:
    """Set the limits of an individuals and moving range chart.

    Readings that never change give a sigma of 0 and limits on the centre line: the
    gauge is too coarse to show the process.

    Parameters
    ----------
    readings : sequence of float
        At least two readings in the order made [unit of reading]

    Returns
    -------
    IndividualsChart
        Centre, limits and moving ranges [unit of reading]

    Raises
    ------
    ValueError
        Fewer than two readings, or one that is not finite.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2. Constants d2 and d3 of
    two readings are exact here (1.128379, 0.852502); the handbook rounds d2 to 1.128.

    Examples
    --------
    Flow rates of ten batches, printed 55.8041 and 45.8159 with the rounded d2:

    >>> rates = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
    >>> chart = individuals_chart(rates)
    >>> chart.centre, chart.mean_range, chart.high, chart.low
    (50.81, 1.8778, 55.80, 45.82)
    """
    points = [finite("reading", reading) for reading in readings]
    at_least("readings", points, 2)
    ranges = tuple(abs(after - before) for before, after in pairwise(points))
    centre, mean_range = fmean(points), fmean(ranges)
    sigma = mean_range / _D2
    return IndividualsChart(
        centre=centre,
        sigma=sigma,
        low=centre - 3 * sigma,
        high=centre + 3 * sigma,
        moving_ranges=ranges,
        mean_range=mean_range,
        range_high=_RANGE_FACTOR * mean_range,
    )


def ewma_chart(
    readings: Sequence[float],
    *,
    target: float,
    sigma: float,
    weight: float = 0.3,
    width: float = 3.0,
) -> EwmaChart:
    """Chart the exponentially weighted moving average of readings.

    Parameters
    ----------
    readings : sequence of float
        At least one reading, in the order made [unit of reading]
    target : float
        Centre line, and the average before the first reading [unit of reading]
    sigma : float
        Standard deviation of single readings, above 0 [unit of reading]
    weight : float
        Weight of the newest reading, above 0 and up to 1 [-]
    width : float
        Half-width of the limits in standard deviations, above 0 [-]

    Returns
    -------
    EwmaChart
        Averages and limits [unit of reading], positions of signals [-]

    Raises
    ------
    ValueError
        No reading, a number that is not finite, or one outside its range.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4. Limits at each reading
    by the exact variance, factor 1 - (1 - weight)^(2 i).

    Examples
    --------
    The handbook's limits, printed 52.5884 and 47.4115, and its first averages:

    >>> chart = ewma_chart([52.0, 47.0, 53.0], target=50, sigma=2.0539)
    >>> chart.high, chart.low
    (52.5884, 47.4116)
    >>> chart.averages
    (50.60, 49.52, 50.56)
    """
    points = [finite("reading", reading) for reading in readings]
    at_least("readings", points, 1)
    target = finite("target", target)
    share = positive("weight", within("weight", weight, 0, 1, "-"), "-")
    reach = positive("width", width, "-") * positive("sigma", sigma, "-")
    steady = reach * math.sqrt(share / (2 - share))
    averages = tuple(
        accumulate(points, lambda z, x: share * x + (1 - share) * z, initial=target)
    )[1:]
    spreads = [
        steady * math.sqrt(1 - (1 - share) ** (2 * i))
        for i in range(1, len(points) + 1)
    ]
    return EwmaChart(
        averages=averages,
        lows=tuple(target - spread for spread in spreads),
        highs=tuple(target + spread for spread in spreads),
        low=target - steady,
        high=target + steady,
        signals=tuple(
            i
            for i, (average, spread) in enumerate(zip(averages, spreads, strict=True))
            if abs(average - target) > spread
        ),
    )


def cusum_chart(
    readings: Sequence[float],
    *,
    target: float,
    slack: float,
    decision_interval: float,
) -> CusumChart:
    """Chart the tabular cumulative sums of readings above and below a target.

    Parameters
    ----------
    readings : sequence of float
        At least one reading, in the order made [unit of reading]
    target : float
        Value the process should hold [unit of reading]
    slack : float
        Deviation that is let pass, half the shift to be found, above 0
        [unit of reading]
    decision_interval : float
        Sum beyond which the process is taken to have shifted, above 0
        [unit of reading]

    Returns
    -------
    CusumChart
        Both sums [unit of reading], positions of signals [-]

    Raises
    ------
    ValueError
        No reading, a number that is not finite, or one outside its range.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3, with k and h already
    multiplied by sigma.

    Examples
    --------
    A shift of the handbook's example, from its 12th reading:

    >>> chart = cusum_chart(
    ...     [325.15, 328.325, 327.25],
    ...     target=325, slack=0.3175, decision_interval=4.1959,
    ... )
    >>> chart.highs, chart.signals
    ((0.0, 3.0075, 4.94), (2,))
    """
    points = [finite("reading", reading) for reading in readings]
    at_least("readings", points, 1)
    target = finite("target", target)
    slack = positive("slack", slack, "-")
    limit = positive("decision interval", decision_interval, "-")
    highs = _one_sided_sums([x - target - slack for x in points])
    lows = _one_sided_sums([target - slack - x for x in points])
    return CusumChart(
        highs=highs,
        lows=lows,
        signals=tuple(
            i
            for i, sums in enumerate(zip(highs, lows, strict=True))
            if max(sums) > limit
        ),
    )


def _one_sided_sums(steps: list[float]) -> tuple[float, ...]:
    return tuple(accumulate(steps, lambda s, x: max(0.0, s + x), initial=0.0))[1:]
