"""Pressure on the glue line, and how well it was held.

All pressures are gauge pressures, above the air around; all areas are those of one
glue line, since every joint of a stack carries the whole force.
"""

import math
from collections.abc import Sequence

from records.engineering.histories import checked_history, dips, time_at_or_above
from records.engineering.validity import (
    finite,
    not_negative,
    positive,
    spelled,
    within,
)

_ATMOSPHERE_PA = 101_325.0


def ram_pressure(
    gauge_pa: float,
    rams: int,
    bore_m: float,
    area_m2: float,
    added_force_n: float = 0.0,
) -> float:
    """Find the glue-line pressure under hydraulic rams.

    Parameters
    ----------
    gauge_pa : float
        Pressure on the hydraulic gauge [Pa].
    rams : int
        Number of rams [pieces].
    bore_m : float
        Bore of each ram, its diameter [m].
    area_m2 : float
        Glued area of one joint [m2].
    added_force_n : float
        Weight of a platen that presses; negative where rams lift it or springs
        return it [N].

    Returns
    -------
    float
        Mean pressure on the glue line [Pa].

    Raises
    ------
    ValueError
        If a figure is out of range or the added force is more than the rams lift.

    References
    ----------
    p = p_gauge n (pi/4) d^2 / A by definition of pressure, ram friction neglected.
    Ranges to hold it against: AC 43.13-1B, 1-10 (125-150 psi softwood, 150-200 psi
    hardwood, resorcinol).

    Examples
    --------
    Four 63 mm rams at 10 MPa on 1830 x 152 mm:

    >>> ram_pressure(10e6, 4, 0.063, 1.830 * 0.152) / 1e6
    0.44827
    """
    force = not_negative("gauge pressure", gauge_pa, "Pa") * _ram_area(rams, bore_m)
    net = force + finite("added force", added_force_n)
    if net < 0:
        raise ValueError(
            f"added force {spelled(added_force_n, 'N')} is more than the "
            f"{force:.6g} N of the rams; the press does not close"
        )
    return net / positive("glued area", area_m2, "m2")


def required_gauge_pressure(
    target_pa: float,
    rams: int,
    bore_m: float,
    area_m2: float,
    added_force_n: float = 0.0,
) -> float:
    """Find the hydraulic gauge pressure that gives a glue-line pressure.

    Parameters
    ----------
    target_pa : float
        Mean pressure wanted on the glue line [Pa].
    rams : int
        Number of rams [pieces].
    bore_m : float
        Bore of each ram, its diameter [m].
    area_m2 : float
        Glued area of one joint [m2].
    added_force_n : float
        Weight of a platen that presses; negative where rams lift it or springs
        return it [N].

    Returns
    -------
    float
        Pressure to set on the hydraulic gauge [Pa].

    Raises
    ------
    ValueError
        If a figure is out of range or the added force alone gives more.

    References
    ----------
    p_gauge = (p A - F) / (n (pi/4) d^2), from the definition of pressure.

    Examples
    --------
    Four 3 in rams for 175 psi on 72 x 6 in, 2673.8 psi:

    >>> area = 72 * 6 * 0.0254**2
    >>> required_gauge_pressure(175 * 6894.757, 4, 3 * 0.0254, area) / 6894.757
    2673.80
    """
    force = positive("target pressure", target_pa, "Pa") * positive(
        "glued area", area_m2, "m2"
    )
    net = force - finite("added force", added_force_n)
    if net < 0:
        raise ValueError(
            f"added force {spelled(added_force_n, 'N')} alone is more than the "
            f"{force:.6g} N wanted; lighten the platen"
        )
    return net / _ram_area(rams, bore_m)


def bag_pressure(
    vacuum_pa: float,
    bag_area_m2: float,
    area_m2: float,
    atmosphere_pa: float = _ATMOSPHERE_PA,
) -> float:
    """Find the glue-line pressure under a vacuum bag.

    Parameters
    ----------
    vacuum_pa : float
        Vacuum on the gauge, below the air around, as a positive figure [Pa].
    bag_area_m2 : float
        Area of the caul that the bag presses on [m2].
    area_m2 : float
        Glued area of one joint [m2].
    atmosphere_pa : float
        Pressure of the air around, 50 000 to 110 000 [Pa].

    Returns
    -------
    float
        Mean pressure on the glue line [Pa].

    Raises
    ------
    ValueError
        If an area is not above zero, or the vacuum more than the air around.

    References
    ----------
    p = p_vacuum A_bag / A by definition of pressure; standard atmosphere 101 325 Pa,
    ISO 2533:1975. A bag alone stays far below what AC 43.13-1B, 1-10 asks.

    Examples
    --------
    >>> bag_pressure(80e3, 0.30, 0.24)
    100000.0
    """
    air = within("pressure of the air", atmosphere_pa, 50_000, 110_000, "Pa")
    vacuum = within("vacuum", vacuum_pa, 0, air, "Pa")
    bag = positive("area under the bag", bag_area_m2, "m2")
    return vacuum * bag / positive("glued area", area_m2, "m2")


def lowest(samples: Sequence[tuple[float, float]]) -> float:
    """Find the lowest pressure in a press load.

    Parameters
    ----------
    samples : Sequence[tuple[float, float]]
        Time and glue-line pressure of each sample [s, Pa].

    Returns
    -------
    float
        Lowest pressure that was sampled [Pa].

    Raises
    ------
    ValueError
        If there is no sample, the times run backwards or a pressure is negative.

    References
    ----------
    Definition.

    Examples
    --------
    >>> lowest([(0, 560e3), (600, 541e3), (1200, 555e3)])
    541000.0
    """
    return min(pressure for _, pressure in _pressures(samples))


def longest_below(samples: Sequence[tuple[float, float]], minimum_pa: float) -> float:
    """Find the longest single time for which the pressure was below its minimum.

    Parameters
    ----------
    samples : Sequence[tuple[float, float]]
        Time and glue-line pressure of each sample [s, Pa].
    minimum_pa : float
        Least pressure allowed [Pa].

    Returns
    -------
    float
        Length of the longest dip, good sample to good sample; 0 without one [s].

    Raises
    ------
    ValueError
        If there is no sample, the times run backwards or a pressure is negative.

    References
    ----------
    Definition, as in `records.engineering.histories.dips`.

    Examples
    --------
    >>> longest_below([(0, 560e3), (600, 541e3), (1200, 555e3)], 551.6e3)
    1200.0
    """
    below = dips(_pressures(samples), positive("least pressure", minimum_pa, "Pa"))
    return max((dip.duration_s for dip in below), default=0.0)


def hold_time(samples: Sequence[tuple[float, float]], minimum_pa: float) -> float:
    """Find for how long the pressure was held at or above its minimum.

    Parameters
    ----------
    samples : Sequence[tuple[float, float]]
        Time and glue-line pressure of each sample [s, Pa].
    minimum_pa : float
        Least pressure allowed [Pa].

    Returns
    -------
    float
        Time between good samples; dips do not count [s].

    Raises
    ------
    ValueError
        If there is no sample, the times run backwards or a pressure is negative.

    References
    ----------
    Definition. Common practice, no source: 80 psi held 14 hours is 0.5516 MPa for
    50 400 s.

    Examples
    --------
    >>> hold_time([(0, 551.6e3), (50400, 551.6e3)], 551.5e3)
    50400.0
    """
    least = positive("least pressure", minimum_pa, "Pa")
    return time_at_or_above(_pressures(samples), least)


def _ram_area(rams: int, bore_m: float) -> float:
    number = within("number of rams", rams, 1, 1000, "-")
    return number * math.pi / 4 * positive("bore of a ram", bore_m, "m") ** 2


def _pressures(samples: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    for _, pressure in samples:
        not_negative("pressure", pressure, "Pa")
    return checked_history(samples, "pressure")
