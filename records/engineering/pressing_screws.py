"""Pressure on the glue line from screws tightened to a torque.

The force of a screw follows from its torque only through friction, which nobody
measures: expect a scatter of a quarter either way, and check with a load cell.
"""

from records.engineering.validity import not_negative, positive, within

_NUT_FACTORS = (0.08, 0.40)


def screw_force(torque_nm: float, diameter_m: float, nut_factor: float) -> float:
    """Find the clamping force of one screw from its torque.

    Parameters
    ----------
    torque_nm : float
        Torque on the screw [N.m].
    diameter_m : float
        Nominal diameter of its thread [m].
    nut_factor : float
        Friction assumed in thread and collar together, 0.08 to 0.40: near 0.20 dry
        steel, 0.15 oiled [-].

    Returns
    -------
    float
        Clamping force [N].

    Raises
    ------
    ValueError
        If the torque is negative, the diameter not above zero or the nut factor
        outside its range.

    References
    ----------
    T = K F d, Shigley's Mechanical Engineering Design, 9th ed., eq. 8-27 and Table
    8-15 for K (from memory).

    Examples
    --------
    >>> screw_force(40, 0.016, 0.20)
    12500.0
    """
    torque = not_negative("torque", torque_nm, "N.m")
    diameter = positive("thread diameter", diameter_m, "m")
    return torque / (within("nut factor", nut_factor, *_NUT_FACTORS, "-") * diameter)


def screw_pressure(
    torque_nm: float, screws: int, diameter_m: float, nut_factor: float, area_m2: float
) -> float:
    """Find the glue-line pressure under screws tightened to one torque.

    Parameters
    ----------
    torque_nm : float
        Torque on each screw [N.m].
    screws : int
        Number of screws [pieces].
    diameter_m : float
        Nominal diameter of their thread [m].
    nut_factor : float
        Friction assumed, as in `screw_force` [-].
    area_m2 : float
        Glued area of one joint [m2].

    Returns
    -------
    float
        Mean pressure on the glue line [Pa].

    Raises
    ------
    ValueError
        If there is no screw, the area is not above zero, or as for `screw_force`.

    References
    ----------
    p = n T / (K d A), from T = K F d (Shigley, from memory).

    Examples
    --------
    >>> screw_pressure(40, 20, 0.016, 0.20, 0.25)
    1000000.0
    """
    number = within("number of screws", screws, 1, 1000, "-")
    force = number * screw_force(torque_nm, diameter_m, nut_factor)
    return force / positive("glued area", area_m2, "m2")


def required_torque(
    target_pa: float, screws: int, diameter_m: float, nut_factor: float, area_m2: float
) -> float:
    """Find the torque on each screw that gives a glue-line pressure.

    Parameters
    ----------
    target_pa : float
        Mean pressure wanted on the glue line [Pa].
    screws : int
        Number of screws [pieces].
    diameter_m : float
        Nominal diameter of their thread [m].
    nut_factor : float
        Friction assumed, as in `screw_force` [-].
    area_m2 : float
        Glued area of one joint [m2].

    Returns
    -------
    float
        Torque to set [N.m].

    Raises
    ------
    ValueError
        If the pressure is not above zero, or as for `screw_pressure`.

    References
    ----------
    T = p A K d / n, from T = K F d (Shigley, from memory). 150 psi on 25 in2 is
    3750 lbf, 468.75 lbf on each of 8 clamps (Wood magazine, September 2021).

    Examples
    --------
    >>> required_torque(1e6, 20, 0.016, 0.20, 0.25)
    40.0
    """
    target = positive("target pressure", target_pa, "Pa")
    return target / screw_pressure(1.0, screws, diameter_m, nut_factor, area_m2)
