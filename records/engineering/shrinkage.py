"""Shrinkage of wood, and how hub thickness and bolt circle move with moisture."""

import math
from dataclasses import dataclass

from records.engineering.validity import positive, within

_FIBRE_SATURATION_PCT = 30.0
_COEFFICIENT_RANGE_PCT = (6.0, 14.0)
_LARGEST_COEFFICIENT = 0.01


@dataclass(frozen=True, slots=True)
class BoltCircleChange:
    """How a bolt circle moves with moisture; it becomes slightly oval.

    Attributes
    ----------
    along : float
        Change of its diameter along the blades [unit of the diameter].
    across : float
        Change of its diameter across the blades [unit of the diameter].
    """

    along: float
    across: float


def shrinkage_at(total_pct: float, moisture_pct: float) -> float:
    """Find the shrinkage from green to a moisture content.

    Parameters
    ----------
    total_pct : float
        Shrinkage from green to oven-dry in that direction [%].
    moisture_pct : float
        Moisture content, 0 to 30 [%].

    Returns
    -------
    float
        Shrinkage from the green size [%].

    Raises
    ------
    ValueError
        If the shrinkage is not above 0 or above 30 %, or the content outside its
        range.

    References
    ----------
    Wood Handbook, FPL-GTR-282 (2021), eq. 4-9 (read in transcription); Table 4-3:
    yellow birch, tangential, 9.5 %.

    Examples
    --------
    >>> shrinkage_at(9.5, 8)
    6.967
    """
    total = _total(total_pct)
    content = within("moisture content", moisture_pct, 0, _FIBRE_SATURATION_PCT, "%")
    return total * (1 - content / _FIBRE_SATURATION_PCT)


def change_coefficient(total_pct: float) -> float:
    """Find the dimensional change coefficient that a total shrinkage implies.

    Parameters
    ----------
    total_pct : float
        Shrinkage from green to oven-dry in that direction [%].

    Returns
    -------
    float
        Change of size per 1 % of moisture content, about 10 % [-].

    Raises
    ------
    ValueError
        If the shrinkage is not above 0 or above 30 %.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), Tables 4-3 and 13-5: reproduces each domestic
    single species to its five decimals, but not mahogany nor the oak group.

    Examples
    --------
    >>> change_coefficient(7.0)
    0.00245
    """
    total = _total(total_pct)
    return total / 3000 / (1 - total / 150)


def coefficient_at_ring_angle(
    radial: float, tangential: float, ring_angle_deg: float
) -> float:
    """Find the coefficient through the thickness for a board's ring angle.

    Parameters
    ----------
    radial : float
        Radial coefficient, across the rings [-].
    tangential : float
        Tangential coefficient, along the rings [-].
    ring_angle_deg : float
        Angle between growth rings and wide face: 0 flat-sawn, 90 quarter-sawn [deg].

    Returns
    -------
    float
        Coefficient through the thickness; at 90 less the angle, across the width [-].

    Raises
    ------
    ValueError
        If a coefficient is not above 0 or above 0.01, or the angle outside 0 to 90.

    References
    ----------
    Transformation of plane strain without shear, as in Gere and Goodno, Mechanics of
    Materials, ch. 7 (from memory). At 0 and 90 deg Wood Handbook Table 13-5 itself.

    Examples
    --------
    >>> coefficient_at_ring_angle(0.00256, 0.00338, 90)
    0.00338
    """
    across_rings, along_rings = _coefficient(radial), _coefficient(tangential)
    angle = math.radians(within("ring angle", ring_angle_deg, 0, 90, "deg"))
    return across_rings * math.cos(angle) ** 2 + along_rings * math.sin(angle) ** 2


def change_by_coefficient(
    size: float, coefficient: float, initial_pct: float, final_pct: float
) -> float:
    """Find how much a size changes between two moisture contents.

    Parameters
    ----------
    size : float
        Size at the initial content, such as hub thickness [any unit].
    coefficient : float
        Dimensional change coefficient in that direction [-].
    initial_pct : float
        Moisture content at which the size was read, 6 to 14 [%].
    final_pct : float
        Moisture content wanted, 6 to 14 [%].

    Returns
    -------
    float
        Change of the size; negative when it shrinks [unit of the size].

    Raises
    ------
    ValueError
        If the size is not above zero, the coefficient not above 0 or above 0.01, or
        a content outside 6 to 14 %: use `change_by_shrinkage` there.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), ch. 13, change by coefficient, and its
    example, white fir 232 mm.

    Examples
    --------
    >>> change_by_coefficient(232, 0.00245, 8, 11)
    1.705
    """
    start, end = (
        within("moisture content", content, *_COEFFICIENT_RANGE_PCT, "%")
        for content in (initial_pct, final_pct)
    )
    return positive("size", size, "-") * _coefficient(coefficient) * (end - start)


def change_by_shrinkage(
    size: float, total_pct: float, initial_pct: float, final_pct: float
) -> float:
    """Find how much a size changes over the whole range below fibre saturation.

    Parameters
    ----------
    size : float
        Size at the initial content, such as hub thickness [any unit].
    total_pct : float
        Shrinkage from green to oven-dry in that direction [%].
    initial_pct : float
        Moisture content at which the size was read, 0 to 30 [%].
    final_pct : float
        Moisture content wanted, 0 to 30 [%].

    Returns
    -------
    float
        Change of the size; negative when it shrinks [unit of the size].

    Raises
    ------
    ValueError
        If the size is not above zero, the shrinkage not above 0 or above 30 %, or a
        content outside 0 to 30 %.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), eq. 13-3 (form from memory). Its example in
    the other form, white fir 232 mm, gives 1.705 mm.

    Examples
    --------
    >>> change_by_shrinkage(232, 7.0, 8, 11)
    1.712
    """
    total, measured = _total(total_pct), positive("size", size, "-")
    start, end = (
        within("moisture content", content, 0, _FIBRE_SATURATION_PCT, "%")
        for content in (initial_pct, final_pct)
    )
    saturation = _FIBRE_SATURATION_PCT
    return measured * (end - start) / (saturation * 100 / total - saturation + start)


def bolt_circle_change(
    diameter: float,
    coefficient_along: float,
    coefficient_across: float,
    initial_pct: float,
    final_pct: float,
) -> BoltCircleChange:
    """Find how a bolt circle in the hub changes between two moisture contents.

    Parameters
    ----------
    diameter : float
        Diameter of the circle at the initial content [any unit].
    coefficient_along : float
        Coefficient along the grain, near 0.00007 for straight grain [-].
    coefficient_across : float
        Coefficient across the width of the laminations [-].
    initial_pct : float
        Moisture content at which the circle was read, 6 to 14 [%].
    final_pct : float
        Moisture content wanted, 6 to 14 [%].

    Returns
    -------
    BoltCircleChange
        Change along and across the blades [unit of the diameter].

    Raises
    ------
    ValueError
        As for `change_by_coefficient`.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), ch. 13, change by coefficient; its ch. 4 puts
    shrinkage along the grain at 0.1 to 0.2 % (from memory), by `change_coefficient`
    0.00003 to 0.00007.

    Examples
    --------
    >>> bolt_circle_change(120, 0.00007, 0.00256, 12, 8).across
    -1.2288
    """
    return BoltCircleChange(
        *(
            change_by_coefficient(diameter, coefficient, initial_pct, final_pct)
            for coefficient in (coefficient_along, coefficient_across)
        )
    )


def _total(total_pct: float) -> float:
    positive("shrinkage", total_pct, "%")
    return within("shrinkage", total_pct, 0, 30, "%")


def _coefficient(value: float) -> float:
    positive("dimensional change coefficient", value, "-")
    return within("dimensional change coefficient", value, 0, _LARGEST_COEFFICIENT, "-")
