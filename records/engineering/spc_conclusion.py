"""Whether readings show a process to be capable, said in a sentence.

An index from few readings is mostly chance: at 25 readings the 95 % interval of Cp
still runs from 0.72 to 1.28 of its value. Below that number no conclusion is drawn.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from statistics import fmean, stdev
from typing import Final

from records.engineering.spc_capability import (
    CONFIDENCES,
    Indices,
    Limits,
    capability_indices,
)
from records.engineering.validity import finite, positive, within

# Fewest readings for a conclusion: common practice, no source.
FEWEST_READINGS: Final = 25


class Conclusion(StrEnum):
    """What may be said of a process."""

    CAPABLE = "capable"
    NOT_CAPABLE = "not capable"
    NOT_SHOWN = "not shown"
    TOO_FEW_POINTS = "too few points"


@dataclass(frozen=True, slots=True)
class Assessment:
    """What a series of readings says of the process.

    Attributes
    ----------
    conclusion : Conclusion
        Capable, not capable, not shown, or too few points [-]
    sentence : str
        The conclusion with its reason [-]
    indices : Indices or None
        None when the readings are fewer than two or do not vary [-]
    """

    conclusion: Conclusion
    sentence: str
    indices: Indices | None


def assess_capability(
    readings: Sequence[float],
    limits: Limits,
    *,
    wanted: float = 1.33,
    confidence: float = 0.95,
) -> Assessment:
    """Say whether readings show a process to be capable.

    Capable means that the whole confidence interval of Cpk lies at or above the
    wanted value, not capable that all of it lies below. Fewer than 25 readings allow
    neither, whatever the index.

    Parameters
    ----------
    readings : sequence of float
        Readings of a process in control [unit of reading]
    limits : Limits
        Limits of the part, and the target for Cpm [unit of reading]
    wanted : float
        Cpk to be shown, above 0 [-]
    confidence : float
        Confidence of the intervals, 0.5 to 0.9999 [-]

    Returns
    -------
    Assessment
        Conclusion, its sentence and the indices [-]

    Raises
    ------
    ValueError
        A number that is not finite or is out of its range.

    References
    ----------
    Indices: NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6. Fewest readings:
    common practice, no source. Deciding by the interval: our own rule.

    Examples
    --------
    >>> assess_capability([15.9, 16.1, 16.0], Limits(8, 20)).sentence
    'too few points: 3 of the 25 needed to judge a process'
    """
    points = [finite("reading", reading) for reading in readings]
    positive("wanted Cpk", wanted, "-")
    within("confidence", confidence, *CONFIDENCES, "-")
    indices = None
    if len(points) > 1:
        mean, deviation = fmean(points), stdev(points)
        if deviation > limits.noise(mean):
            indices = capability_indices(
                mean, deviation, len(points), limits, confidence=confidence
            )
    conclusion, reason = _conclude(len(points), indices, wanted, confidence)
    return Assessment(conclusion, f"{conclusion}: {reason}", indices)


def _conclude(
    points: int, indices: Indices | None, wanted: float, confidence: float
) -> tuple[Conclusion, str]:
    if points < FEWEST_READINGS:
        reason = f"{points} of the {FEWEST_READINGS} needed to judge a process"
        return Conclusion.TOO_FEW_POINTS, reason
    if indices is None:
        reason = "the readings do not vary, so the gauge is too coarse to tell"
        return Conclusion.NOT_SHOWN, reason
    interval = f"{100 * confidence:g} % interval of Cpk"
    if indices.cpk.low >= wanted:
        reason = f"the whole {interval} lies at or above {wanted:g}"
        return Conclusion.CAPABLE, reason
    if indices.cpk.high < wanted:
        reason = f"the whole {interval} lies below {wanted:g}"
        return Conclusion.NOT_CAPABLE, reason
    reason = f"{wanted:g} lies within the {interval}, so more readings are needed"
    return Conclusion.NOT_SHOWN, reason
