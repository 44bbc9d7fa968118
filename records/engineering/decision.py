"""Judge a reading against its limits, with or without its uncertainty.

Judging is done on ``Decimal``, digit for digit as the gauge showed it. Only the
probability of conformity is a ``float``.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from statistics import NormalDist
from typing import Final

from records.engineering.validity import not_negative


class Verdict(StrEnum):
    """What a reading's place against its limits is called."""

    INSIDE = "inside"
    OUTSIDE = "outside"
    UNDECIDED = "undecided"


class Rule(StrEnum):
    """How far a reading must stay from a limit to count as proven."""

    SIMPLE = "simple"
    GUARDED = "guarded"


VERDICTS: Final = tuple(Verdict)
RULES: Final = tuple(Rule)
# Default guard factor of ISO 14253-1: from memory. Its 4.95 % is computed.
GUARD_FACTOR: Final = Decimal("1.65")
_STANDARD_NORMAL: Final = NormalDist()


@dataclass(frozen=True, slots=True)
class Judgement:
    """The outcome of judging one reading.

    Attributes
    ----------
    verdict : Verdict
        Inside, outside or undecided [-]
    probability_of_conformity : float
        Probability that the true value lies within the limits [-]
    guard_band : Decimal
        Distance kept from each limit [unit of value]
    """

    verdict: Verdict
    probability_of_conformity: float
    guard_band: Decimal


def judge(
    value: Decimal,
    low: Decimal | None,
    high: Decimal | None,
    *,
    standard_uncertainty: float = 0.0,
    rule: str,
    guard_factor: Decimal = GUARD_FACTOR,
) -> Judgement:
    """Judge a value against one or two limits under a decision rule.

    ``simple`` takes the value as it is: exactly on a limit is inside. ``guarded``
    keeps a guard band of `guard_factor` standard uncertainties: inside when at
    least that far within the limits, outside when further than that beyond one,
    undecided between.

    Parameters
    ----------
    value : Decimal
        Measured value, as read [unit of value]
    low : Decimal or None
        Lower limit, None when there is none [unit of value]
    high : Decimal or None
        Upper limit, None when there is none [unit of value]
    standard_uncertainty : float
        Standard uncertainty of the value [unit of value]
    rule : str
        Decision rule, one of `RULES` [-]
    guard_factor : Decimal
        Guard band in standard uncertainties, used by ``guarded`` [-]

    Returns
    -------
    Judgement
        Verdict [-], probability of conformity [-], guard band [unit of value]

    Raises
    ------
    ValueError
        No limit at all, limits crossed, an unknown rule, or a number that is not
        finite or is negative where it cannot be.

    References
    ----------
    JCGM 106:2012, 7.4 (probability of conformity), 8.2 (simple acceptance) and
    8.3 (guard bands); ISO 14253-1:2017, 5.2 to 5.4 (clause numbers from memory).

    Examples
    --------
    JCGM 106, breakdown voltage of a Zener diode, printed as 0.92 (inputs from
    memory):

    >>> diode = judge(
    ...     Decimal("-5.47"), None, Decimal("-5.40"),
    ...     standard_uncertainty=0.05, rule="guarded",
    ... )
    >>> round(diode.probability_of_conformity, 2)
    0.92
    >>> str(diode.verdict), diode.guard_band
    ('undecided', Decimal('0.0825'))
    """
    _check_limits(value, low, high)
    not_negative("standard uncertainty", standard_uncertainty, "-")
    not_negative("guard factor", guard_factor, "-")
    guard_band = Decimal(0)
    if _rule(rule) is Rule.GUARDED:
        guard_band = guard_factor * Decimal(repr(float(standard_uncertainty)))
    return Judgement(
        verdict=_verdict(_margin(value, low, high), guard_band),
        probability_of_conformity=_probability(value, low, high, standard_uncertainty),
        guard_band=guard_band,
    )


def _margin(value: Decimal, low: Decimal | None, high: Decimal | None) -> Decimal:
    """Return how far the value lies within its nearest limit."""
    margins = []
    if low is not None:
        margins.append(value - low)
    if high is not None:
        margins.append(high - value)
    return min(margins)


def _verdict(margin: Decimal, guard_band: Decimal) -> Verdict:
    """Name the place of a value `margin` within its nearest limit."""
    if margin >= guard_band:
        return Verdict.INSIDE
    if margin < -guard_band:
        return Verdict.OUTSIDE
    return Verdict.UNDECIDED


def _probability(
    value: Decimal, low: Decimal | None, high: Decimal | None, uncertainty: float
) -> float:
    """Return the probability that the true value is within the limits."""
    if uncertainty == 0:
        above = low is None or low <= value
        return float(above and (high is None or value <= high))
    below_high = 1.0 if high is None else _phi(float(high - value) / uncertainty)
    below_low = 0.0 if low is None else _phi(float(low - value) / uncertainty)
    return below_high - below_low


def _phi(z: float) -> float:
    return _STANDARD_NORMAL.cdf(z)


def _rule(name: str) -> Rule:
    try:
        return Rule(name)
    except ValueError:
        known = " or ".join(RULES)
        raise ValueError(f"decision rule {name!r} is unknown: use {known}") from None


def _check_limits(value: Decimal, low: Decimal | None, high: Decimal | None) -> None:
    for name, number in (("value", value), ("lower limit", low), ("upper limit", high)):
        if number is not None and not number.is_finite():
            raise ValueError(f"{name} {number} is not a finite number")
    if low is None and high is None:
        raise ValueError("no limit is given: state a lower limit, an upper, or both")
    if low is not None and high is not None and low > high:
        raise ValueError(f"lower limit {low} is above upper limit {high}")
