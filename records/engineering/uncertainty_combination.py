"""Combine components of uncertainty, and expand the result for a certificate."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

from records.engineering.uncertainty import Component
from records.engineering.validity import at_least, finite, within

CONFIDENCES: Final = (0.5, 0.9999)
# Arithmetic noise allowed in a variance that cancels, and in a whole number.
_NOISE: Final = 1e-12


@dataclass(frozen=True, slots=True)
class Expanded:
    """An interval about the result that holds the value with a stated confidence.

    Attributes
    ----------
    uncertainty : float
        Half-width of the interval [unit of reading]
    coverage_factor : float
        Half-width over the standard uncertainty [-]
    """

    uncertainty: float
    coverage_factor: float


def combined(components: Iterable[Component]) -> Component:
    """Combine independent components by their root sum of squares.

    Parameters
    ----------
    components : iterable of Component
        At least one, all in the unit of the result [unit of reading]

    Returns
    -------
    Component
        Combined standard uncertainty [unit of reading] and its effective degrees of
        freedom by the Welch-Satterthwaite formula [-]

    Raises
    ------
    ValueError
        No component.

    References
    ----------
    JCGM 100:2008, 5.1.2 eq. 10 and G.4.1 eq. G.2b.

    Examples
    --------
    The end gauge of JCGM 100:2008 H.1, printed 32 nm and 16 degrees of freedom:

    >>> gauge = combined(
    ...     [Component(25, 18), Component(9.7, 25.6), Component(2.9, 50),
    ...      Component(16.6, 2)]
    ... )
    >>> round(gauge.standard_uncertainty), int(gauge.degrees_of_freedom)
    (32, 16)
    """
    parts = list(components)
    at_least("components", parts, 1)
    total = math.hypot(*(part.standard_uncertainty for part in parts))
    if total == 0:
        return Component(0.0)
    doubt = sum(
        (part.standard_uncertainty / total) ** 4 / part.degrees_of_freedom
        for part in parts
    )
    return Component(total, 1 / doubt if doubt else math.inf)


def combined_correlated(
    contributions: Sequence[float], correlations: Sequence[Sequence[float]]
) -> float:
    """Combine components that vary together, such as two readings of one gauge.

    Parameters
    ----------
    contributions : sequence of float
        Sensitivity times standard uncertainty, with the sign of the sensitivity
        [unit of reading]
    correlations : sequence of sequence of float
        Correlation coefficient of each with each, a symmetric square with 1 on the
        diagonal [-]

    Returns
    -------
    float
        Combined standard uncertainty [unit of reading]

    Raises
    ------
    ValueError
        No contribution, or correlations that are not such a square, lie outside
        -1 to 1, or contradict one another.

    References
    ----------
    JCGM 100:2008, 5.2.2 eq. 16.

    Examples
    --------
    JCGM 100:2008 5.2.2, note 1, example: ten 1000 ohm resistors, each 0.1 ohm, all
    calibrated against one standard, in series:

    >>> combined_correlated([0.1] * 10, [[1.0] * 10] * 10)
    1.0
    """
    parts = [finite("contribution", value) for value in contributions]
    at_least("contributions", parts, 1)
    _check_correlations(correlations, len(parts))
    variance = sum(
        one * other * correlation
        for one, row in zip(parts, correlations, strict=True)
        for other, correlation in zip(parts, row, strict=True)
    )
    if variance < -_NOISE * math.fsum(part**2 for part in parts):
        raise ValueError(f"variance {variance} is negative: the correlations conflict")
    return math.sqrt(max(variance, 0.0))


def expanded(component: Component, *, confidence: float = 0.95) -> Expanded:
    """Expand a standard uncertainty to an interval of stated confidence.

    Effective degrees of freedom are rounded down to a whole number first.

    Parameters
    ----------
    component : Component
        Standard uncertainty [unit of reading] and at least 1 degree of freedom [-]
    confidence : float
        Probability that the interval holds the value, 0.5 to 0.9999 [-]

    Returns
    -------
    Expanded
        Half-width [unit of reading] and coverage factor [-]

    Raises
    ------
    ValueError
        Fewer degrees of freedom than 1, or a confidence out of range.

    References
    ----------
    JCGM 100:2008, 6.2, 6.3 and G.3.2 (factor of Student's t), G.4.1 (rounding down).

    Examples
    --------
    The end gauge of JCGM 100:2008 H.1, printed k = 2.92 and 93 nm at 99 %:

    >>> gauge = expanded(Component(32, 16.7), confidence=0.99)
    >>> round(gauge.coverage_factor, 2), round(gauge.uncertainty)
    (2.92, 93)
    """
    within("confidence", confidence, *CONFIDENCES, "-")
    freedom = component.degrees_of_freedom
    if freedom != math.inf:
        freedom = math.floor(freedom * (1 + _NOISE))
    if freedom < 1:
        raise ValueError(
            f"{component.degrees_of_freedom:.3g} degrees of freedom are fewer than 1: "
            "repeat the reading more often"
        )
    factor = _t_factor(freedom, (1 + confidence) / 2)
    return Expanded(factor * component.standard_uncertainty, factor)


def _t_factor(freedom: float, probability: float) -> float:
    if freedom == math.inf:
        return NormalDist().inv_cdf(probability)
    from scipy.special import stdtrit  # noqa: PLC0415

    return float(stdtrit(freedom, probability))


def _check_correlations(rows: Sequence[Sequence[float]], size: int) -> None:
    if len(rows) != size or any(len(row) != size for row in rows):
        raise ValueError(f"correlations must be a square of {size} by {size}")
    for i, row in enumerate(rows):
        for j, correlation in enumerate(row):
            within("correlation", correlation, -1, 1, "-")
            if correlation != rows[j][i]:
                raise ValueError(f"correlations of {i} and {j} differ by direction")
        if row[i] != 1:
            raise ValueError(f"correlation of {i} with itself is {row[i]}, not 1")
