"""Logged histories: what a gauge or logger showed, sample by sample.

A sample is a pair of time and value. Nobody saw what happened between two samples,
so the worse of the two is taken for the span: a history never looks better than it
was. Two samples at one time mark a step. One rule for temperature and pressure.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from records.engineering.validity import at_least, finite, spelled


@dataclass(frozen=True, slots=True)
class Dip:
    """One span in which a value was below its minimum.

    Attributes
    ----------
    start_s : float
        Last sample known good before it; the first sample if there is none [s].
    end_s : float
        First sample known good after it; the last sample if there is none [s].
    lowest : float
        Lowest value in it [unit of the value].
    ended : bool
        Whether the value was seen to come back [-].
    """

    start_s: float
    end_s: float
    lowest: float
    ended: bool

    @property
    def duration_s(self) -> float:
        """Length of the dip [s]."""
        return self.end_s - self.start_s


def checked_history(
    samples: Sequence[tuple[float, float]], name: str
) -> list[tuple[float, float]]:
    """Refuse a history that is empty or runs backwards.

    Parameters
    ----------
    samples : Sequence[tuple[float, float]]
        Time and value of each sample [s, unit of the value].
    name : str
        What the value is, as the reader knows it [-].

    Returns
    -------
    list[tuple[float, float]]
        The same samples as floats [s, unit of the value].

    Raises
    ------
    ValueError
        If there is no sample, a number is not finite or a time is earlier than the
        one before it.

    References
    ----------
    Convention of this package: samples come in the order in which they were taken.

    Examples
    --------
    >>> checked_history([(0, 20), (60, 21)], "temperature")
    [(0.0, 20.0), (60.0, 21.0)]
    """
    at_least(f"samples of {name}", samples, 1)
    checked = [(finite("time", at), finite(name, value)) for at, value in samples]
    for number, ((before, _), (after, _)) in enumerate(pairwise(checked), start=2):
        if after < before:
            raise ValueError(
                f"sample {number} of {name} at {spelled(after, 's')} is earlier than "
                f"the one before it at {spelled(before, 's')}; sort the samples"
            )
    return checked


def dips(samples: Sequence[tuple[float, float]], minimum: float) -> tuple[Dip, ...]:
    """Find every span in which a value was below its minimum.

    A dip runs from the last good sample before it to the first good one after it.
    Exactly on the minimum is good.

    Parameters
    ----------
    samples : Sequence[tuple[float, float]]
        Time and value of each sample [s, unit of the value].
    minimum : float
        Least value allowed [unit of the value].

    Returns
    -------
    tuple[Dip, ...]
        The dips in order of time; none if the value held [s].

    Raises
    ------
    ValueError
        If there is no sample, the times run backwards or a number is not finite.

    References
    ----------
    Definition; between two samples the worse is taken (module docstring).

    Examples
    --------
    >>> dips([(0, 9), (60, 5), (120, 9)], 8)
    (Dip(start_s=0.0, end_s=120.0, lowest=5.0, ended=True),)
    """
    history = checked_history(samples, "value")
    least = finite("minimum", minimum)
    below: list[Dip] = []
    start, lowest = history[0][0], least
    for at, value in history:
        if value < least:
            lowest = min(lowest, value)
            continue
        if lowest < least:
            below.append(Dip(start, at, lowest, ended=True))
        start, lowest = at, least
    if lowest < least:
        below.append(Dip(start, history[-1][0], lowest, ended=False))
    return tuple(below)


def time_at_or_above(samples: Sequence[tuple[float, float]], minimum: float) -> float:
    """Find for how long a value was at or above its minimum.

    A span counts only if both samples at its ends are good.

    Parameters
    ----------
    samples : Sequence[tuple[float, float]]
        Time and value of each sample [s, unit of the value].
    minimum : float
        Least value allowed [unit of the value].

    Returns
    -------
    float
        Time at or above the minimum; 0 for a single sample [s].

    Raises
    ------
    ValueError
        If there is no sample, the times run backwards or a number is not finite.

    References
    ----------
    Definition; between two samples the worse is taken (module docstring).

    Examples
    --------
    >>> time_at_or_above([(0, 9), (60, 9), (120, 5)], 8)
    60.0
    """
    history = checked_history(samples, "value")
    least = finite("minimum", minimum)
    return sum(
        (
            after - before
            for (before, first), (after, second) in pairwise(history)
            if min(first, second) >= least
        ),
        start=0.0,
    )
