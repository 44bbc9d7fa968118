"""Times of a maker's glue sheet at the actual temperature."""

import math
from collections.abc import Sequence
from itertools import pairwise

from records.engineering.interpolation import interpolate
from records.engineering.validity import not_negative, positive, spelled, within


def interpolate_time(
    table: Sequence[tuple[float, float]], temperature_c: float
) -> float:
    """Read a time from a maker's table at the actual temperature.

    Between two rows the logarithm of the time is taken as straight in temperature.

    Parameters
    ----------
    table : Sequence[tuple[float, float]]
        Temperature, rising, and time [degC, s].
    temperature_c : float
        Temperature of glue and wood [degC].

    Returns
    -------
    float
        Time at that temperature [s].

    Raises
    ------
    ValueError
        If the temperature is outside the table, a time is negative, or one of the
        two rows that the temperature lies between has no time left (0).

    References
    ----------
    Arrhenius law over a short span. Bulletin for a resorcinol glue reprinted in the
    Falco construction manual, App. D, rev. 4: 7.5 h at 60 degF, 3.75 h at 70 degF.

    Examples
    --------
    >>> interpolate_time([(15.556, 27000), (21.111, 13500)], 18.3335) / 3600
    5.303
    """
    for _, time in table:
        not_negative("time in the table", time, "s")
    at_a_row = interpolate(table, temperature_c, "temperature", "degC")
    for (cool, longer), (warm, shorter) in pairwise(table):
        if cool < temperature_c < warm:
            if min(longer, shorter) == 0:
                raise ValueError(
                    f"temperature {spelled(temperature_c, 'degC')} is beside a time of "
                    f"0 s in the table; no time can be read between "
                    f"{spelled(cool, 'degC')} and {spelled(warm, 'degC')}"
                )
            share = (temperature_c - cool) / (warm - cool)
            return math.exp((1 - share) * math.log(longer) + share * math.log(shorter))
    return at_a_row


def closed_limit_after_open(
    open_used_s: float, open_maximum_s: float, closed_maximum_s: float
) -> float:
    """Shorten the closed assembly limit by the open time already used.

    Parameters
    ----------
    open_used_s : float
        Open assembly time that the joint had [s].
    open_maximum_s : float
        Longest open assembly time on the glue sheet [s].
    closed_maximum_s : float
        Longest closed assembly time on the glue sheet, without open time [s].

    Returns
    -------
    float
        Longest closed assembly time that is left [s].

    Raises
    ------
    ValueError
        If a limit is not above zero, or the open time is outside 0 to its limit.

    References
    ----------
    Rule in the resorcinol bulletin reprinted in the Falco construction manual, App.
    D, rev. 4: a fraction of the open limit used up takes that fraction of the closed
    one. At 70 degF a third of 10 min leaves 40 of 60 min.

    Examples
    --------
    >>> closed_limit_after_open(200, 600, 3600) / 60
    40.0
    """
    longest = positive("longest open assembly time", open_maximum_s, "s")
    used = within("open assembly time", open_used_s, 0, longest, "s")
    closed = positive("longest closed assembly time", closed_maximum_s, "s")
    return closed * (1 - used / longest)
