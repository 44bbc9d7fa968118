"""When to calibrate a gauge again, from how it was found."""

from typing import Final

from records.engineering.validity import finite, not_negative, positive

# All four figures are the shop's own starting values (common practice, no source);
# the share and the ten years are named in the texts cited below, from memory.
GOOD_SHARE: Final = 0.8
LENGTHEN: Final = 1.25
SHORTEN: Final = 0.5
LONGEST_DAYS: Final = 3650


def staircase_interval(
    interval_d: float, as_found_error: float, permissible_error: float
) -> int:
    """Suggest the next interval between calibrations by one step of a staircase.

    Found well inside its permissible error (up to 80 % of it) a gauge goes a
    quarter longer until the next calibration; found outside, half as long; in
    between, as long as before. Ten years is the longest, one day the shortest.

    Parameters
    ----------
    interval_d : float
        Interval that ended with this calibration [d].
    as_found_error : float
        Greatest error as found, before any adjustment [unit of the gauge].
    permissible_error : float
        Greatest error allowed [unit of the gauge].

    Returns
    -------
    int
        Suggested interval, whole days [d].

    Raises
    ------
    ValueError
        If the interval is not positive, the permissible error is negative or a
        number is not finite.

    References
    ----------
    ILAC-G24/OIML D 10:2022, method 1, automatic adjustment or staircase: the idea
    and the 80 % (from memory). Step sizes: common practice, no source. Ten years at
    most: NIST GMP 11.

    Examples
    --------
    >>> staircase_interval(360, 0.01, 0.05)
    450
    >>> staircase_interval(360, 0.06, 0.05)
    180
    """
    days = positive("interval between calibrations", interval_d, "d")
    error = abs(finite("error as found", as_found_error))
    allowed = not_negative("permissible error", permissible_error, "-")
    step = 1.0
    if error > allowed:
        step = SHORTEN
    elif error <= GOOD_SHARE * allowed:
        step = LENGTHEN
    return max(1, min(LONGEST_DAYS, round(days * step)))
