"""Static unbalance from readings on knife edges, a free stand or a scale."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from records.engineering.balance import PointMass, Unbalance, unbalance_of
from records.engineering.validity import at_least, positive

# Arms closer than 10 deg to one line magnify an error of reading sixfold.
_LEAST_SPREAD: Final = math.sin(math.radians(10)) ** 2


@dataclass(frozen=True, slots=True)
class FittedUnbalance:
    """Unbalance that fits the readings of several arms best.

    Attributes
    ----------
    unbalance : Unbalance
        Least-squares vector [g.mm].
    misfit_g_mm : float
        Largest moment by which one reading differs from it: friction, draught or
        a slip of the pen. Two arms always fit [g.mm].
    """

    unbalance: Unbalance
    misfit_g_mm: float


def unbalance_from_levelling(added: Sequence[PointMass]) -> FittedUnbalance:
    """Return the unbalance from masses that made the propeller stay level.

    On knife edges or a free stand, one arm after another is put horizontal and a
    mass is found that keeps it there. Two blades: the horizontal reading has the
    mass on the light blade, the vertical one at the side of the hub.

    Parameters
    ----------
    added : Sequence[PointMass]
        For each position, the mass that levelled it and where it sat [g, mm, deg].

    Returns
    -------
    FittedUnbalance
        Unbalance before anything was added, and misfit of the readings [g.mm].

    Raises
    ------
    ValueError
        If there are fewer than two readings, all arms lie within about 10 deg of
        one line, a number is not finite or a radius is not above zero.

    References
    ----------
    FAA-H-8083-32, static balancing on knife edges, both positions; the vector is
    the least-squares solution of U . e = -m r over the arms.

    Examples
    --------
    Light blade is number 2, light side of the hub is at 270 deg:

    >>> found = unbalance_from_levelling(
    ...     [PointMass(3, 850, 180), PointMass(12, 60, 270)]
    ... )
    >>> found.unbalance.amount_g_mm, found.unbalance.angle_deg
    (2649.698, 15.767)
    """
    fitted = unbalance_from_scale(added)
    return FittedUnbalance(-fitted.unbalance, fitted.misfit_g_mm)


def unbalance_from_scale(readings: Sequence[PointMass]) -> FittedUnbalance:
    """Return the unbalance from what each arm weighs on a scale.

    The propeller is free on its shaft, one arm after another rests level on the
    scale. A preload that keeps a light arm down is taken off first, so that its
    net reading is negative.

    Parameters
    ----------
    readings : Sequence[PointMass]
        For each position, the net reading and where the scale stood [g, mm, deg].

    Returns
    -------
    FittedUnbalance
        Unbalance and misfit of the readings [g.mm].

    Raises
    ------
    ValueError
        If there are fewer than two readings, all arms lie within about 10 deg of
        one line, a number is not finite or a radius is not above zero.

    References
    ----------
    Moment about the shaft's axis: U . e = f r for an arm in direction e, solved by
    least squares over the arms.

    Examples
    --------
    >>> found = unbalance_from_scale([PointMass(3, 850, 0), PointMass(12, 60, 90)])
    >>> found.unbalance.across_g_mm
    720.0
    """
    at_least("readings", readings, 2)
    arms = [_arm(reading) for reading in readings]
    fitted = _least_squares(arms)
    misfit = max(
        abs(moment - fitted.along_g_mm * c - fitted.across_g_mm * s)
        for c, s, moment in arms
    )
    return FittedUnbalance(fitted, misfit)


def _arm(reading: PointMass) -> tuple[float, float, float]:
    """Return direction cosines and moment of one reading."""
    positive("radius of the arm", reading.radius_mm, "mm")
    vector = unbalance_of(reading)
    direction = math.radians(reading.angle_deg)
    c, s = math.cos(direction), math.sin(direction)
    return c, s, vector.along_g_mm * c + vector.across_g_mm * s


def _least_squares(arms: Sequence[tuple[float, float, float]]) -> Unbalance:
    cc = sum(c * c for c, _, _ in arms)
    ss = sum(s * s for _, s, _ in arms)
    cs = sum(c * s for c, s, _ in arms)
    determinant = cc * ss - cs * cs
    if determinant * 4 / len(arms) ** 2 < _LEAST_SPREAD:
        raise ValueError(
            "all arms lie nearly in one line: add a reading with another arm "
            "horizontal, best at a right angle"
        )
    along = sum(c * moment for c, _, moment in arms)
    across = sum(s * moment for _, s, moment in arms)
    return Unbalance(
        (ss * along - cs * across) / determinant,
        (cc * across - cs * along) / determinant,
    )
