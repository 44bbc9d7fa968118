"""Judge a past reading again, knowing by how much its gauge was wrong."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from records.engineering.validity import not_negative


class Effect(StrEnum):
    """What a gauge's error does to the verdict of a reading."""

    UNAFFECTED = "unaffected"
    MARGINAL = "marginal"
    WOULD_FAIL = "would fail"


@dataclass(frozen=True, slots=True)
class Rejudged:
    """A reading judged again.

    Attributes
    ----------
    corrected : Decimal
        The value less the gauge's error [unit of value]
    effect : Effect
        What that does to the verdict [-]
    """

    corrected: Decimal
    effect: Effect


def rejudge(
    value: Decimal,
    low: Decimal | None,
    high: Decimal | None,
    *,
    error: Decimal,
    expanded_uncertainty: Decimal,
) -> Rejudged:
    """Judge a value against its limits again, taking off the error of its gauge.

    A value that was outside already is unaffected: it was dealt with as outside. One
    that falls outside would fail. One that stays inside by no more than the expanded
    uncertainty of the calibration is marginal.

    Parameters
    ----------
    value : Decimal
        Value as it was judged [unit of value].
    low : Decimal or None
        Lower limit stored with it, None when there is none [unit of value].
    high : Decimal or None
        Upper limit stored with it, None when there is none [unit of value].
    error : Decimal
        What the gauge showed less what was true, as found [unit of value].
    expanded_uncertainty : Decimal
        Expanded uncertainty of that error [unit of value].

    Returns
    -------
    Rejudged
        Corrected value [unit of value] and effect on the verdict [-].

    Raises
    ------
    ValueError
        If there is no limit, or the uncertainty is negative or not finite.

    References
    ----------
    ISO 9001:2015, 7.1.5.2, asks whether earlier results were affected when a gauge is
    found unfit. Error as indication less true value: JCGM 200:2012, 2.16 (number from
    memory). The three classes: the shop's own, no source.

    Examples
    --------
    A track of 1.40 mm under a limit of 1.5 mm, with a pointer that read 0.20 mm short:

    >>> rejudge(
    ...     Decimal("1.40"), None, Decimal("1.5"),
    ...     error=Decimal("-0.20"), expanded_uncertainty=Decimal("0.02"),
    ... ).corrected
    Decimal('1.60')
    """
    not_negative("expanded uncertainty", expanded_uncertainty, "-")
    corrected = value - error
    if _margin(value, low, high) < 0:
        return Rejudged(corrected, Effect.UNAFFECTED)
    margin = _margin(corrected, low, high)
    if margin < 0:
        return Rejudged(corrected, Effect.WOULD_FAIL)
    if margin <= expanded_uncertainty:
        return Rejudged(corrected, Effect.MARGINAL)
    return Rejudged(corrected, Effect.UNAFFECTED)


def _margin(value: Decimal, low: Decimal | None, high: Decimal | None) -> Decimal:
    """Return how far a value lies within its nearest limit."""
    margins = [value - low] if low is not None else []
    margins += [high - value] if high is not None else []
    if not margins:
        raise ValueError("no limit is given: state a lower limit, an upper, or both")
    return min(margins)
