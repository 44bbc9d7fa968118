"""How far a glue has cured, from the temperature it was logged at.

Cure adds up: a span dt at temperature T cures the part dt / t(T), where t(T) is the
maker's press time at T. Between two samples the colder is taken, so that the part
is never overstated. Outside the maker's table nothing is known, so nothing counts
as cured there; the time is reported instead.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from records.engineering.gluing_times import interpolate_time
from records.engineering.histories import checked_history, dips
from records.engineering.validity import at_least, positive

_ROUNDING = 1e-9

__all__ = ["Cure", "cure", "dips", "forecast_opening", "opening_time"]


@dataclass(frozen=True, slots=True)
class Cure:
    """How far a glue has cured.

    Attributes
    ----------
    fraction : float
        Part of the maker's press time reached; 1 and more is enough [-].
    counted_s : float
        Time inside the maker's table [s].
    too_cold_s : float
        Time below it, in which nothing counts [s].
    too_hot_s : float
        Time above it, in which nothing counts [s].
    """

    fraction: float
    counted_s: float
    too_cold_s: float
    too_hot_s: float


def cure(
    history: Sequence[tuple[float, float]], table: Sequence[tuple[float, float]]
) -> Cure:
    """Add up the cure over a logged history of temperature.

    Parameters
    ----------
    history : Sequence[tuple[float, float]]
        Time and glue-line temperature; two samples at one time are a step [s, degC].
    table : Sequence[tuple[float, float]]
        The maker's press time: temperature, rising, and time [degC, s].

    Returns
    -------
    Cure
        Fraction cured and the times that did and did not count [see `Cure`].

    Raises
    ------
    ValueError
        If history or table is empty or out of order, or a press time is not above
        zero.

    References
    ----------
    Linear addition of life fractions (as in Miner 1945 for fatigue, from memory),
    with dt / t(T) for each span. Press times of a urea glue: bulletin reprinted in
    the Falco construction manual, App. D, rev. 4: 1.75 h at 68 degF.

    Examples
    --------
    >>> cure([(0, 20), (3150, 20)], [(20, 6300), (25, 4500)]).fraction
    0.5
    """
    lowest, highest = _table_reach(table)
    fraction, counted, cold, hot = 0.0, 0.0, 0.0, 0.0
    for _, duration, temperature in _spans(history):
        if temperature < lowest:
            cold += duration
        elif temperature > highest:
            hot += duration
        else:
            counted += duration
            fraction += duration / interpolate_time(table, temperature)
    return Cure(fraction, counted, cold, hot)


def opening_time(
    history: Sequence[tuple[float, float]],
    table: Sequence[tuple[float, float]],
    required: float = 1.0,
) -> float | None:
    """Find the earliest time at which the press might have been opened.

    Parameters
    ----------
    history : Sequence[tuple[float, float]]
        Time and glue-line temperature since pressure came on [s, degC].
    table : Sequence[tuple[float, float]]
        The maker's press time: temperature, rising, and time [degC, s].
    required : float
        Fraction of the press time asked for; 2 for double press time [-].

    Returns
    -------
    float or None
        Time on the clock of the history; None if it was not reached yet [s].

    Raises
    ------
    ValueError
        As for `cure`, or if the required fraction is not above zero.

    References
    ----------
    As for `cure`, solved for the time; the bulletin asks at least double for
    laminating.

    Examples
    --------
    >>> opening_time([(0, 20), (9000, 20)], [(20, 6300), (25, 4500)])
    6300.0
    """
    wanted = positive("required fraction of cure", required, "-")
    lowest, highest = _table_reach(table)
    fraction = 0.0
    for start, duration, temperature in _spans(history):
        if lowest <= temperature <= highest:
            press_time = interpolate_time(table, temperature)
            if fraction + duration / press_time >= wanted - _ROUNDING:
                return start + (wanted - fraction) * press_time
            fraction += duration / press_time
    return None


def forecast_opening(
    history: Sequence[tuple[float, float]],
    table: Sequence[tuple[float, float]],
    temperature_c: float,
    required: float = 1.0,
) -> float:
    """Forecast the earliest opening if the temperature stays as given from now on.

    Parameters
    ----------
    history : Sequence[tuple[float, float]]
        Time and glue-line temperature since pressure came on [s, degC].
    table : Sequence[tuple[float, float]]
        The maker's press time: temperature, rising, and time [degC, s].
    temperature_c : float
        Temperature expected after the last sample [degC].
    required : float
        Fraction of the press time asked for; 2 for double press time [-].

    Returns
    -------
    float
        Time on the clock of the history; past if it was reached already [s].

    Raises
    ------
    ValueError
        As for `opening_time`, or if the temperature is outside the table.

    References
    ----------
    As for `cure`, solved for the time.

    Examples
    --------
    >>> forecast_opening([(0, 20), (3150, 20)], [(20, 6300), (25, 4500)], 25)
    5400.0
    """
    press_time = interpolate_time(table, temperature_c)
    reached = opening_time(history, table, required)
    if reached is not None:
        return reached
    missing = required - cure(history, table).fraction
    return history[-1][0] + missing * press_time


def _table_reach(table: Sequence[tuple[float, float]]) -> tuple[float, float]:
    at_least("rows in the table of press times", table, 1)
    for _, press_time in table:
        positive("press time in the table", press_time, "s")
    interpolate_time(table, table[0][0])
    return table[0][0], table[-1][0]


def _spans(
    history: Sequence[tuple[float, float]],
) -> Iterator[tuple[float, float, float]]:
    samples = checked_history(history, "temperature")
    for (start, first), (end, second) in pairwise(samples):
        yield start, end - start, min(first, second)
