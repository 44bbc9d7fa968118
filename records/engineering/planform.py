"""Outline of a blade: its area and its activity factor."""

from collections.abc import Sequence
from dataclasses import dataclass

from records.engineering.quadrature import Quadrature, integrate
from records.engineering.validity import (
    at_least,
    increasing,
    not_negative,
    positive,
    spelled,
)


@dataclass(frozen=True, slots=True)
class PlanformArea:
    """Area of one blade's outline, between its outermost stations.

    Attributes
    ----------
    area_mm2 : float
        Area of one blade [mm2].
    mean_chord_mm : float
        Area over the length between the outermost stations [mm].
    inner_mm : float
        Radius at which the integration begins [mm].
    outer_mm : float
        Radius at which it ends [mm].
    rule : Quadrature
        Rule by which the area was integrated [-].
    """

    area_mm2: float
    mean_chord_mm: float
    inner_mm: float
    outer_mm: float
    rule: Quadrature


@dataclass(frozen=True, slots=True)
class ActivityFactor:
    """Capacity of one blade to absorb power, as its outline alone tells it.

    Attributes
    ----------
    value : float
        Activity factor of one blade [-].
    inner : float
        Radius over tip radius at which the integration begins [-].
    outer : float
        Radius over tip radius at which it ends [-].
    rule : Quadrature
        Rule by which it was integrated [-].
    """

    value: float
    inner: float
    outer: float
    rule: Quadrature


def planform_area(
    radii_mm: Sequence[float], chords_mm: Sequence[float], rule: Quadrature
) -> PlanformArea:
    """Return the area of one blade from its chords at stations.

    Parameters
    ----------
    radii_mm : Sequence[float]
        Station radii, rising, from 0 up [mm].
    chords_mm : Sequence[float]
        Chord at each station, 0 or more [mm].
    rule : Quadrature
        Rule of integration [-].

    Returns
    -------
    PlanformArea
        Area [mm2], mean chord [mm], range integrated [mm] and rule [-].

    Raises
    ------
    ValueError
        If there are fewer than two stations, a radius or chord is negative, radii
        do not rise, the lists differ, or Simpson's rule does not fit.

    References
    ----------
    Definition: the integral of chord over radius.

    Examples
    --------
    A blade that tapers evenly from 100 mm to 40 mm over 500 mm:

    >>> planform_area([100, 600], [100, 40], Quadrature.TRAPEZOID).area_mm2
    35000.0
    """
    _check_outline(radii_mm, chords_mm)
    area = integrate(radii_mm, chords_mm, rule)
    return PlanformArea(
        area_mm2=area,
        mean_chord_mm=area / (radii_mm[-1] - radii_mm[0]),
        inner_mm=radii_mm[0],
        outer_mm=radii_mm[-1],
        rule=rule,
    )


def activity_factor(
    radii_mm: Sequence[float],
    chords_mm: Sequence[float],
    diameter_mm: float,
    rule: Quadrature,
) -> ActivityFactor:
    """Return the activity factor of one blade.

    It is integrated between the outermost stations given, and says which they
    are: the usual range is 0.15 of the tip radius to the tip. The rule matters
    and belongs to the answer: coarse stations give several percent between them.

    Parameters
    ----------
    radii_mm : Sequence[float]
        Station radii, rising, none beyond the tip [mm].
    chords_mm : Sequence[float]
        Chord at each station, 0 or more [mm].
    diameter_mm : float
        Diameter of the propeller [mm].
    rule : Quadrature
        Rule of integration [-].

    Returns
    -------
    ActivityFactor
        Activity factor [-], range integrated [-] and rule [-].

    Raises
    ------
    ValueError
        If there are fewer than two stations, a station lies beyond the tip, a
        value is out of range, the lists differ, or Simpson's rule does not fit.

    References
    ----------
    AF = (100000 / 16) integral of (c / D) x^3 dx, x = r / R from 0.15 to 1, at
    heli-air.net.

    Examples
    --------
    Chord 8 % of the diameter all along (Simpson's rule is exact here):

    >>> activity_factor(
    ...     [150, 575, 1000], [160, 160, 160], 2000, Quadrature.SIMPSON
    ... ).value
    124.937
    """
    diameter = positive("diameter", diameter_mm, "mm")
    _check_outline(radii_mm, chords_mm)
    tip = diameter / 2
    if radii_mm[-1] > tip:
        raise ValueError(
            f"station radius {spelled(radii_mm[-1], 'mm')} lies beyond the tip "
            f"at {spelled(tip, 'mm')}"
        )
    x = [radius / tip for radius in radii_mm]
    pairs = zip(chords_mm, x, strict=True)
    integrand = [chord / diameter * ratio**3 for chord, ratio in pairs]
    value = 100_000 / 16 * integrate(x, integrand, rule)
    return ActivityFactor(value=value, inner=x[0], outer=x[-1], rule=rule)


def _check_outline(radii_mm: Sequence[float], chords_mm: Sequence[float]) -> None:
    at_least("stations", radii_mm, 2)
    if len(radii_mm) != len(chords_mm):
        raise ValueError(
            f"{len(radii_mm)} stations but {len(chords_mm)} chords: "
            "give one chord for each station"
        )
    not_negative("station radius", radii_mm[0], "mm")
    increasing("station radii", radii_mm, "mm")
    for chord in chords_mm:
        not_negative("chord", chord, "mm")
