"""How much unbalance may stay: by an ISO balance grade or by the shop's figure.

ISO 21940-11 has no row for aircraft propellers. Which grade to use, or which figure
instead, is for the approved design or the shop to say.
"""

import math
from dataclasses import dataclass

from records.engineering.validity import not_negative, positive


@dataclass(frozen=True, slots=True)
class PermissibleUnbalance:
    """Residual unbalance that is allowed, and on what grounds.

    Attributes
    ----------
    amount_g_mm : float
        Largest residual unbalance [g.mm].
    basis : str
        Where the figure comes from, for print beside it [-].
    """

    amount_g_mm: float
    basis: str


def permissible_eccentricity(grade_mm_s: float, speed_rpm: float) -> float:
    """Return the residual unbalance that a grade allows for each kilogram.

    Parameters
    ----------
    grade_mm_s : float
        Balance quality grade G, above 0 [mm/s].
    speed_rpm : float
        Highest speed in service, above 0 [r/min].

    Returns
    -------
    float
        Permissible eccentricity, in um, which is g.mm for each kg [um].

    Raises
    ------
    ValueError
        If the grade or the speed is not above zero.

    References
    ----------
    ISO 21940-11 (formerly ISO 1940-1): e_per = G / omega; grades as seen at
    ascentialtech.com.

    Examples
    --------
    >>> permissible_eccentricity(6.3, 2700)
    22.282
    """
    grade = positive("balance grade", grade_mm_s, "mm/s")
    return 1000 * grade / _angular_speed(speed_rpm)


def permissible_by_grade(
    grade_mm_s: float, mass_kg: float, speed_rpm: float
) -> PermissibleUnbalance:
    """Return the residual unbalance that a balance grade allows.

    Parameters
    ----------
    grade_mm_s : float
        Balance quality grade G, above 0 [mm/s].
    mass_kg : float
        Mass of the propeller, above 0 [kg].
    speed_rpm : float
        Highest speed in service, above 0 [r/min].

    Returns
    -------
    PermissibleUnbalance
        Amount [g.mm] and the words for its basis [-].

    Raises
    ------
    ValueError
        If a number is not above zero.

    References
    ----------
    ISO 21940-11: U_per = e_per m. A propeller is taken as one plane, so that all
    of it counts there.

    Examples
    --------
    >>> permissible_by_grade(6.3, 5, 2700).amount_g_mm
    111.408
    """
    mass = positive("mass of the propeller", mass_kg, "kg")
    return PermissibleUnbalance(
        amount_g_mm=permissible_eccentricity(grade_mm_s, speed_rpm) * mass,
        basis=f"ISO 21940-11, G {grade_mm_s:g} at {speed_rpm:g} r/min, {mass:g} kg",
    )


def permissible_by_shop(mass_g: float, radius_mm: float) -> PermissibleUnbalance:
    """Return the residual unbalance that the shop allows by its own figure.

    Parameters
    ----------
    mass_g : float
        Mass that may at most be needed to level it, above 0 [g].
    radius_mm : float
        Radius at which that mass is meant, above 0 [mm].

    Returns
    -------
    PermissibleUnbalance
        Amount [g.mm] and the words for its basis [-].

    Raises
    ------
    ValueError
        If a number is not above zero.

    References
    ----------
    Mass times radius. A couple of grams at the tip: common practice, no source; no
    modern published figure for wood propellers was found.

    Examples
    --------
    >>> permissible_by_shop(2, 850).amount_g_mm
    1700.0
    """
    mass = positive("mass", mass_g, "g")
    radius = positive("radius", radius_mm, "mm")
    return PermissibleUnbalance(
        amount_g_mm=mass * radius,
        basis=f"shop's own figure: {mass:g} g at {radius:g} mm",
    )


def balance_grade(unbalance_g_mm: float, mass_kg: float, speed_rpm: float) -> float:
    """Return the grade that a residual unbalance amounts to.

    Parameters
    ----------
    unbalance_g_mm : float
        Amount of residual unbalance, 0 or more [g.mm].
    mass_kg : float
        Mass of the propeller, above 0 [kg].
    speed_rpm : float
        Highest speed in service, above 0 [r/min].

    Returns
    -------
    float
        Balance quality grade G that it just meets [mm/s].

    Raises
    ------
    ValueError
        If the unbalance is negative, or mass or speed is not above zero.

    References
    ----------
    ISO 21940-11: G = e omega, with e = U / m.

    Examples
    --------
    Half an ounce-inch on 5 kg at 2700 r/min (computed):

    >>> balance_grade(0.5 * 720.077887375, 5, 2700)
    20.36
    """
    amount = not_negative("unbalance", unbalance_g_mm, "g.mm")
    eccentricity_um = amount / positive("mass of the propeller", mass_kg, "kg")
    return eccentricity_um * _angular_speed(speed_rpm) / 1000


def centrifugal_force(unbalance_g_mm: float, speed_rpm: float) -> float:
    """Return the force with which an unbalance pulls on the shaft.

    Parameters
    ----------
    unbalance_g_mm : float
        Amount of unbalance, 0 or more [g.mm].
    speed_rpm : float
        Speed, above 0 [r/min].

    Returns
    -------
    float
        Rotating force [N].

    Raises
    ------
    ValueError
        If the unbalance is negative or the speed is not above zero.

    References
    ----------
    F = U omega^2.

    Examples
    --------
    >>> centrifugal_force(111.408, 2700)
    8.91
    """
    amount = not_negative("unbalance", unbalance_g_mm, "g.mm")
    return amount * 1e-6 * _angular_speed(speed_rpm) ** 2


def _angular_speed(speed_rpm: float) -> float:
    return positive("speed", speed_rpm, "r/min") * math.pi / 30
