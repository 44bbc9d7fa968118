"""Mix ratio, glued area and spread of a glue-up."""

from collections.abc import Sequence
from dataclasses import dataclass

from records.engineering.quadrature import Quadrature, integrate
from records.engineering.validity import (
    finite,
    not_negative,
    positive,
    spelled,
    within,
)


@dataclass(frozen=True, slots=True)
class BatchParts:
    """What to weigh for one mix.

    Attributes
    ----------
    resin_g : float
        Mass of resin or powder [g].
    hardener_g : float
        Mass of hardener or water [g].
    """

    resin_g: float
    hardener_g: float


def mix_ratio(resin_g: float, hardener_g: float) -> float:
    """Find the mix ratio from the weighed masses.

    Parameters
    ----------
    resin_g : float
        Mass of resin or powder [g].
    hardener_g : float
        Mass of hardener or water [g].

    Returns
    -------
    float
        Hardener or water in 100 parts of resin by mass [%].

    Raises
    ------
    ValueError
        If the resin is not above zero or the hardener negative.

    References
    ----------
    Ratio by mass as a maker's bulletin prints it: resorcinol 5:1 is 20 % (bulletin
    reprinted in the Falco construction manual, App. D, rev. 4).

    Examples
    --------
    >>> mix_ratio(500, 100)
    20.0
    """
    resin = positive("mass of resin", resin_g, "g")
    return 100 * not_negative("mass of hardener", hardener_g, "g") / resin


def ratio_deviation(actual_pct: float, specified_pct: float) -> float:
    """Find how far a mix ratio is off the maker's, as a part of the maker's.

    Parameters
    ----------
    actual_pct : float
        Ratio as mixed [%].
    specified_pct : float
        Ratio on the glue sheet [%].

    Returns
    -------
    float
        Deviation, positive with too much hardener [% of the specified ratio].

    Raises
    ------
    ValueError
        If the specified ratio is not above zero or the actual one negative.

    References
    ----------
    Relative deviation by definition. AC 43.13-1B, 1-8: the ratio is not altered to
    change the cure; 3 to 5 % either way is common practice (no source).

    Examples
    --------
    >>> ratio_deviation(21, 20)
    5.0
    """
    specified = positive("specified mix ratio", specified_pct, "%")
    return 100 * (not_negative("mix ratio", actual_pct, "%") - specified) / specified


def divide_batch(total_g: float, ratio_pct: float) -> BatchParts:
    """Divide a batch into resin and hardener.

    Parameters
    ----------
    total_g : float
        Mass of the whole mix [g].
    ratio_pct : float
        Hardener or water in 100 parts of resin by mass [%].

    Returns
    -------
    BatchParts
        Masses that add up to the batch [g].

    Raises
    ------
    ValueError
        If the total is not above zero or the ratio negative.

    References
    ----------
    Definition of a ratio by mass; a powder glue with 65 % water, 500 g of powder
    takes 325 g (maker's instructions, check value computed).

    Examples
    --------
    >>> divide_batch(600, 20)
    BatchParts(resin_g=500.0, hardener_g=100.0)
    """
    total = positive("mass of the mix", total_g, "g")
    ratio = not_negative("mix ratio", ratio_pct, "%") / 100
    hardener = total * ratio / (1 + ratio)
    return BatchParts(resin_g=total - hardener, hardener_g=hardener)


def joint_area(
    positions_m: Sequence[float], widths_m: Sequence[float], rule: Quadrature
) -> float:
    """Find the area of one joint from the widths of the blank at stations.

    Parameters
    ----------
    positions_m : Sequence[float]
        Distance of each station from one end of the blank, rising [m].
    widths_m : Sequence[float]
        Width of the blank at each station [m].
    rule : Quadrature
        Trapezoid, or Simpson with an odd number of stations [-].

    Returns
    -------
    float
        Area of one glue line [m2].

    Raises
    ------
    ValueError
        If a width is negative, or as for `integrate`, or the area is not above zero.

    References
    ----------
    Trapezoidal and Simpson's rule, as in `records.engineering.quadrature`.

    Examples
    --------
    >>> joint_area([0, 0.9, 1.8], [0.10, 0.16, 0.10], Quadrature.TRAPEZOID)
    0.234
    """
    widths = [not_negative("width of the blank", width, "m") for width in widths_m]
    return positive("area of a joint", integrate(positions_m, widths, rule), "m2")


def glued_area(joint_area_m2: float, joints: int) -> float:
    """Find the glued area of a stack.

    Parameters
    ----------
    joint_area_m2 : float
        Area of one glue line [m2].
    joints : int
        Number of joints, one less than the laminations [pieces].

    Returns
    -------
    float
        Area of all glue lines together [m2].

    Raises
    ------
    ValueError
        If the area is not above zero or there is no joint.

    References
    ----------
    Definition: a blank of n laminations has n - 1 joints.

    Examples
    --------
    >>> glued_area(0.25, 6)
    1.5
    """
    number = within("number of joints", joints, 1, 1000, "-")
    return positive("area of a joint", joint_area_m2, "m2") * number


def spread(mixed_g: float, left_g: float, area_m2: float) -> float:
    """Find the spread from what was mixed and what was left in the pot.

    Parameters
    ----------
    mixed_g : float
        Mass of the mix [g].
    left_g : float
        Mass left in the pot and on the tools [g].
    area_m2 : float
        Area of the glue lines it went on [m2].

    Returns
    -------
    float
        Mass per area of glue line [g/m2].

    Raises
    ------
    ValueError
        If the mix or the area is not above zero, or more was left than mixed.

    References
    ----------
    Definition. Makers print it per single glue line: 50 lb/1000 ft2 is 244 g/m2
    (bulletin reprinted in the Falco construction manual, App. D, rev. 4).

    Examples
    --------
    >>> spread(600, 112, 2.0)
    244.0
    """
    mixed = positive("mass of the mix", mixed_g, "g")
    left = finite("mass left", left_g)
    if not 0 <= left <= mixed:
        raise ValueError(
            f"mass left {spelled(left, 'g')} is outside 0 to {spelled(mixed, 'g')}, "
            "the mass of the mix"
        )
    return (mixed - left) / positive("glued area", area_m2, "m2")


def spread_per_line(per_face_g_m2: float, faces: int) -> float:
    """Turn a spread per face into the spread per glue line.

    Parameters
    ----------
    per_face_g_m2 : float
        Mass per area of each face that is coated [g/m2].
    faces : int
        Faces of the joint that are coated, 1 or 2 [pieces].

    Returns
    -------
    float
        Mass per area of glue line [g/m2].

    Raises
    ------
    ValueError
        If the spread is negative or the faces are neither 1 nor 2.

    References
    ----------
    Definition of single and double spread; mistaking one for the other doubles or
    halves the glue.

    Examples
    --------
    >>> spread_per_line(150, 2)
    300.0
    """
    if faces not in {1, 2}:
        raise ValueError(f"faces coated {faces} is neither 1 nor 2")
    return not_negative("spread per face", per_face_g_m2, "g/m2") * faces
