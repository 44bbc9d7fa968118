"""Masses that take an unbalance away, and what is left once they are placed.

A mass is added on the light side, or the same mass taken off the heavy side at the
same radius. Where wood may be added or removed is the design's to say.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from records.engineering.balance import (
    PointMass,
    Unbalance,
    blade_angles,
    unbalance_of,
)
from records.engineering.validity import positive


@dataclass(frozen=True, slots=True)
class BladeMass:
    """Mass to add on one blade.

    Attributes
    ----------
    blade : int
        Number of the blade [-].
    added : PointMass
        Mass, radius and direction [g, mm, deg].
    """

    blade: int
    added: PointMass


@dataclass(frozen=True, slots=True)
class TwoBladeCorrection:
    """Masses to add on a propeller of two blades.

    Attributes
    ----------
    on_blade : BladeMass
        Mass for the horizontal balance, on the light blade [g, mm, deg].
    on_hub : PointMass
        Mass for the vertical balance, on the light side of the hub [g, mm, deg].
    """

    on_blade: BladeMass
    on_hub: PointMass


def correction_at(unbalance: Unbalance, radius_mm: float) -> PointMass:
    """Return the one mass that takes an unbalance away.

    Parameters
    ----------
    unbalance : Unbalance
        Unbalance to take away [g.mm].
    radius_mm : float
        Radius at which the mass is added, above 0 [mm].

    Returns
    -------
    PointMass
        Mass to add, opposite the heavy side [g, mm, deg].

    Raises
    ------
    ValueError
        If the radius is not above zero.

    References
    ----------
    m = U / r, opposite the unbalance.

    Examples
    --------
    >>> correction_at(Unbalance(2550, 0), 600)
    PointMass(mass_g=4.250, radius_mm=600.0, angle_deg=180.0)
    """
    radius = positive("correction radius", radius_mm, "mm")
    opposite = -unbalance
    return PointMass(opposite.amount_g_mm / radius, radius, opposite.angle_deg)


def split_over_blades(
    unbalance: Unbalance, blades: int, radius_mm: float
) -> tuple[BladeMass, BladeMass]:
    """Share a correction between the two blades nearest the light side.

    Parameters
    ----------
    unbalance : Unbalance
        Unbalance to take away [g.mm].
    blades : int
        Number of blades, 3 to 8 [-].
    radius_mm : float
        Radius at which both masses are added, above 0 [mm].

    Returns
    -------
    tuple[BladeMass, BladeMass]
        Masses to add on two neighbouring blades [g, mm, deg].

    Raises
    ------
    ValueError
        If there are two blades, which cannot correct across, or more than 8, or
        the radius is not above zero.

    References
    ----------
    Law of sines: with d between the blades and the light side a from the first,
    w1 = U sin(d - a) / sin d, w2 = U sin a / sin d.

    Examples
    --------
    Light side of three blades at 30 deg, 100 g.mm, masses at 1 mm:

    >>> light = unbalance_of(PointMass(100, 1, 30))
    >>> one, two = split_over_blades(-light, 3, 1)
    >>> one.blade, one.added.mass_g, two.blade, two.added.mass_g
    (1, 115.470, 2, 57.735)
    """
    angles = blade_angles(blades)
    if blades == 2:
        raise ValueError(
            "two blades lie in one line: correct across them at the hub instead"
        )
    needed = correction_at(unbalance, radius_mm)
    pitch = 360 / blades
    first = int(needed.angle_deg // pitch) % blades
    past = math.radians(needed.angle_deg - angles[first])
    gap = math.radians(pitch)
    shares = (math.sin(gap - past), math.sin(past))
    one, two = (
        BladeMass(
            blade=index + 1,
            added=PointMass(
                needed.mass_g * share / math.sin(gap), needed.radius_mm, angles[index]
            ),
        )
        for index, share in zip((first, (first + 1) % blades), shares, strict=True)
    )
    return one, two


def correct_two_blades(
    unbalance: Unbalance, blade_radius_mm: float, hub_radius_mm: float
) -> TwoBladeCorrection:
    """Share a correction between the light blade and the light side of the hub.

    Parameters
    ----------
    unbalance : Unbalance
        Unbalance to take away [g.mm].
    blade_radius_mm : float
        Radius of the mass on the blade, above 0 [mm].
    hub_radius_mm : float
        Radius of the mass on the hub, above 0 [mm].

    Returns
    -------
    TwoBladeCorrection
        Masses to add [g, mm, deg].

    Raises
    ------
    ValueError
        If a radius is not above zero.

    References
    ----------
    FAA-H-8083-32 (horizontal and vertical static balance): each component over
    its own radius.

    Examples
    --------
    >>> found = correct_two_blades(Unbalance(2550, 720), 600, 60)
    >>> found.on_blade.blade, found.on_blade.added.mass_g, found.on_hub.mass_g
    (2, 4.250, 12.0)
    """
    along = correction_at(Unbalance(unbalance.along_g_mm, 0.0), blade_radius_mm)
    across = correction_at(Unbalance(0.0, unbalance.across_g_mm), hub_radius_mm)
    blade = 2 if unbalance.along_g_mm > 0 else 1
    return TwoBladeCorrection(on_blade=BladeMass(blade, along), on_hub=across)


def residual_after(unbalance: Unbalance, placed: Sequence[PointMass]) -> Unbalance:
    """Return what is left once masses were really placed.

    Parameters
    ----------
    unbalance : Unbalance
        Unbalance before [g.mm].
    placed : Sequence[PointMass]
        Masses as placed; negative where wood was taken away [g, mm, deg].

    Returns
    -------
    Unbalance
        Predicted residual unbalance: measure it, do not trust it [g.mm].

    Raises
    ------
    ValueError
        If a number is not finite or a radius is negative.

    References
    ----------
    Vector sum.

    Examples
    --------
    Three blades of 100 500, 100 200 and 100 000 g.mm; 300 on blade 2 and 500 on
    blade 3 make them equal:

    >>> residual_after(
    ...     Unbalance(400, 100 * 3**0.5),
    ...     [PointMass(1, 300, 120), PointMass(1, 500, 240)],
    ... ).amount_g_mm
    0.0
    """
    return sum((unbalance_of(mass) for mass in placed), start=unbalance)
