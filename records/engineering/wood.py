"""Strength of wood along, across and at a slope to the grain."""

import math

from records.engineering.validity import finite, positive, spelled, within

_CONTENT_OF_TABLE_PCT = 12.0
_DRIEST_PCT = 8.0


def slope_angle(run: float) -> float:
    """Turn a slope of grain of 1 in `run` into an angle.

    Parameters
    ----------
    run : float
        Length along the piece in which the grain drifts by one [-].

    Returns
    -------
    float
        Angle between grain and piece [deg].

    Raises
    ------
    ValueError
        If the run is not above zero.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), ch. 5, slope of grain: 1 in 12 is 4.8 deg.

    Examples
    --------
    >>> slope_angle(12)
    4.764
    """
    return math.degrees(math.atan(1 / positive("slope of grain, run", run, "-")))


def slope_run(angle_deg: float) -> float:
    """Turn an angle of the grain into a slope of 1 in so much.

    Parameters
    ----------
    angle_deg : float
        Angle between grain and piece, above 0 and below 90 [deg].

    Returns
    -------
    float
        Length along the piece in which the grain drifts by one [-].

    Raises
    ------
    ValueError
        If the angle is 0 (straight grain has no run), 90 or outside them.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), ch. 5, slope of grain.

    Examples
    --------
    >>> slope_run(4.764)
    12.0
    """
    angle = finite("angle of grain", angle_deg)
    if not 0 < angle < 90:
        raise ValueError(
            f"angle of grain {spelled(angle, 'deg')} must be above 0 deg and below 90 "
            "deg; straight grain has no run"
        )
    return 1 / math.tan(math.radians(angle))


def combined_slope(face_run: float, edge_run: float) -> float:
    """Combine the slopes of grain seen on two adjacent faces.

    Parameters
    ----------
    face_run : float
        Run of the slope on one face, 1 in so much [-].
    edge_run : float
        Run of the slope on the face next to it [-].

    Returns
    -------
    float
        Run of the true slope, less than either [-].

    Raises
    ------
    ValueError
        If a run is not above zero.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), p. 5-31: 1 in 12 with 1 in 16 is 1 in 10 (the
    16 from memory). A limit such as 1 in 15 (AC 43.13-1B, Table 1-1) is the shop's.

    Examples
    --------
    >>> combined_slope(12, 16)
    9.6
    """
    runs = [positive("slope of grain, run", run, "-") for run in (face_run, edge_run)]
    return 1 / math.hypot(*(1 / run for run in runs))


def strength_at_slope(
    along: float, across: float, angle_deg: float, exponent: float = 2.0
) -> float:
    """Find the strength at an angle to the grain (Hankinson's formula).

    Parameters
    ----------
    along : float
        Strength along the grain [any unit].
    across : float
        Strength across the grain [the same unit].
    angle_deg : float
        Angle between load and grain, 0 to 90 [deg].
    exponent : float
        1.5 to 2 for bending and tension, 2 for bearing, 2 to 2.5 for compression
        along the grain [-].

    Returns
    -------
    float
        Strength at that angle [the same unit].

    Raises
    ------
    ValueError
        If a strength is not above zero, the angle is outside 0 to 90 deg or the
        exponent outside 1.5 to 2.5.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), ch. 5, Hankinson-type formula. It is a fit:
    within 5 points of the handbook's own table for bending, less near for impact.

    Examples
    --------
    >>> strength_at_slope(40, 8, 30)
    20.0
    """
    p = positive("strength along the grain", along, "-")
    q = positive("strength across the grain", across, "-")
    angle = math.radians(within("angle to the grain", angle_deg, 0, 90, "deg"))
    n = within("exponent", exponent, 1.5, 2.5, "-")
    sine, cosine = math.pow(math.sin(angle), n), math.pow(math.cos(angle), n)
    return p * q / (p * sine + q * cosine)


def strength_at_content(
    at_12_pct: float, green: float, intersection_pct: float, moisture_pct: float
) -> float:
    """Find a strength at a moisture content other than that of the tables.

    Parameters
    ----------
    at_12_pct : float
        Strength at 12 % moisture content [any unit].
    green : float
        Strength of green wood [the same unit].
    intersection_pct : float
        Content below which strength begins to rise: 24 white ash, 27 birch and
        spruce, 25 where no other is known [%].
    moisture_pct : float
        Content wanted, from 8 to the intersection [%].

    Returns
    -------
    float
        Strength at that content [the same unit].

    Raises
    ------
    ValueError
        If a strength is not above zero, the intersection is outside 20 to 30 % or
        the content outside its range.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), eq. 5-3 and Table 5-13: modulus of rupture of
    white ash at 8 % printed as 119 500 kPa. 8 % is the driest that it works out.

    Examples
    --------
    >>> strength_at_content(103e3, 66e3, 24, 8)
    119472.6
    """
    dry = positive("strength at 12 % moisture content", at_12_pct, "-")
    wet = positive("green strength", green, "-")
    top = within("intersection moisture content", intersection_pct, 20, 30, "%")
    moisture = within("moisture content", moisture_pct, _DRIEST_PCT, top, "%")
    reach = (_CONTENT_OF_TABLE_PCT - moisture) / (top - _CONTENT_OF_TABLE_PCT)
    return dry * math.pow(dry / wet, reach)
