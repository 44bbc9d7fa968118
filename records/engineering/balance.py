"""Static unbalance of a propeller as a vector.

Angles run from blade 1 in the order of the blade numbers, so that blade 2 of three
stands at 120 deg. *Along* points to blade 1 and shows with the blades horizontal;
*across* points 90 deg further and, with two blades, shows with them vertical.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from records.engineering.validity import (
    finite,
    not_negative,
    positive,
    within,
)

MOST_BLADES: Final = 8


@dataclass(frozen=True, slots=True)
class Unbalance:
    """Mass times distance from the shaft's axis, as a vector to the heavy side.

    Attributes
    ----------
    along_g_mm : float
        Component towards blade 1 [g.mm].
    across_g_mm : float
        Component 90 deg further [g.mm].
    """

    along_g_mm: float
    across_g_mm: float

    @property
    def amount_g_mm(self) -> float:
        """Magnitude [g.mm]."""
        return math.hypot(self.along_g_mm, self.across_g_mm)

    @property
    def angle_deg(self) -> float:
        """Direction of the heavy side from blade 1, 0 to 360; 0 of nothing [deg]."""
        if self.amount_g_mm == 0:
            return 0.0
        return math.degrees(math.atan2(self.across_g_mm, self.along_g_mm)) % 360

    def __add__(self, other: "Unbalance") -> "Unbalance":
        """Add two unbalances of the same propeller."""
        return Unbalance(
            self.along_g_mm + other.along_g_mm, self.across_g_mm + other.across_g_mm
        )

    def __neg__(self) -> "Unbalance":
        """Turn the vector to the opposite side."""
        return Unbalance(-self.along_g_mm, -self.across_g_mm)


@dataclass(frozen=True, slots=True)
class PointMass:
    """A mass at a place of the propeller.

    Attributes
    ----------
    mass_g : float
        Mass; negative where it was taken away [g].
    radius_mm : float
        Distance from the shaft's axis [mm].
    angle_deg : float
        Direction from blade 1 [deg].
    """

    mass_g: float
    radius_mm: float
    angle_deg: float


def blade_angles(blades: int) -> tuple[float, ...]:
    """Return where the blades stand.

    Parameters
    ----------
    blades : int
        Number of blades, 2 to 8 [-].

    Returns
    -------
    tuple[float, ...]
        Direction of each blade from blade 1 [deg].

    Raises
    ------
    ValueError
        If the number of blades is outside 2 to 8.

    References
    ----------
    Definition: blades evenly spaced.

    Examples
    --------
    >>> blade_angles(3)
    (0.0, 120.0, 240.0)
    """
    within("number of blades", blades, 2, MOST_BLADES, "-")
    return tuple(360.0 * number / blades for number in range(blades))


def unbalance_of(mass: PointMass) -> Unbalance:
    """Return the unbalance that one mass makes.

    Parameters
    ----------
    mass : PointMass
        Mass, radius and direction [g, mm, deg].

    Returns
    -------
    Unbalance
        Its vector [g.mm].

    Raises
    ------
    ValueError
        If a number is not finite or the radius is negative.

    References
    ----------
    ISO 21940-2, unbalance vector: mass times eccentricity (from memory).

    Examples
    --------
    >>> unbalance_of(PointMass(3, 850, 0)).along_g_mm
    2550.0
    """
    grams = finite("mass", mass.mass_g)
    moment = grams * not_negative("radius", mass.radius_mm, "mm")
    direction = math.radians(finite("angle", mass.angle_deg))
    return Unbalance(moment * math.cos(direction), moment * math.sin(direction))


def unbalance_from_blade_moments(moments_g_mm: Sequence[float]) -> Unbalance:
    """Return the unbalance of blades whose moments were weighed one by one.

    Each blade is taken to have its mass on its own axis: what it carries beside
    that axis does not show, and with two blades nothing across does.

    Parameters
    ----------
    moments_g_mm : Sequence[float]
        For each blade from number 1, mass times distance of its centre of mass
        from the shaft's axis [g.mm].

    Returns
    -------
    Unbalance
        Sum of the blades' vectors [g.mm].

    Raises
    ------
    ValueError
        If there are fewer than 2 or more than 8 blades, or a moment is not above
        zero.

    References
    ----------
    Vector sum over evenly spaced blades.

    Examples
    --------
    >>> three = unbalance_from_blade_moments([100_500, 100_200, 100_000])
    >>> three.amount_g_mm, three.angle_deg
    (435.890, 23.413)
    """
    angles = blade_angles(len(moments_g_mm))
    # A moment is a mass at one millimetre.
    vectors = (
        unbalance_of(PointMass(positive("blade moment", moment, "g.mm"), 1.0, angle))
        for moment, angle in zip(moments_g_mm, angles, strict=True)
    )
    return sum(vectors, start=Unbalance(0.0, 0.0))
