"""How many mixes a stack takes, and how much to weigh for each."""

from dataclasses import dataclass
from decimal import Decimal

from records.engineering.gluing import glued_area
from records.engineering.validity import not_negative, positive, spelled, within


@dataclass(frozen=True, slots=True)
class MixPlan:
    """Mixes for one stack.

    Attributes
    ----------
    joints_per_mix : int
        Most joints that one mix can close within its working life [pieces].
    joints_by_mix : tuple of int
        Joints for each mix in turn, as even as can be [pieces].
    mass_by_mix_g : tuple of float
        Mass to weigh for each mix in turn [g].
    stack_time_s : float
        From the start of the first mix to the last joint closed [s].
    """

    joints_per_mix: int
    joints_by_mix: tuple[int, ...]
    mass_by_mix_g: tuple[float, ...]
    stack_time_s: float


def joints_within_life(
    working_life_s: float, joint_time_s: float, preparation_s: float = 0.0
) -> int:
    """Find how many joints one mix can close within its working life.

    Parameters
    ----------
    working_life_s : float
        Working life at the actual temperature [s].
    joint_time_s : float
        Time to spread and close one joint [s].
    preparation_s : float
        Part of the working life gone before the first joint begins [s].

    Returns
    -------
    int
        Joints; the last may close exactly at the end of the life [pieces].

    Raises
    ------
    ValueError
        If a time is not above zero, or the mix can't close even one joint.

    References
    ----------
    Definition of working life. Common practice, no source: a mix with 15 minutes of
    it takes five joints of three minutes.

    Examples
    --------
    >>> joints_within_life(900, 180)
    5
    """
    life = positive("working life", working_life_s, "s")
    each = positive("time for a joint", joint_time_s, "s")
    gone = not_negative("preparation time", preparation_s, "s")
    # Decimal, so that 0.6 / 0.2 closes three joints, not two.
    left = Decimal(repr(life)) - Decimal(repr(gone))
    joints = int(left // Decimal(repr(each)))
    if joints < 1:
        raise ValueError(
            f"a joint of {spelled(each, 's')} does not fit in the {left.normalize():f} "
            "s of working life; take a slower glue or more hands"
        )
    return joints


def plan_mixes(
    joint_area_m2: float,
    joints: int,
    *,
    spread_g_m2: float,
    working_life_s: float,
    joint_time_s: float,
    preparation_s: float = 0.0,
    reserve_pct: float = 0.0,
) -> MixPlan:
    """Plan the mixes of a stack so that none outlives its working life.

    Parameters
    ----------
    joint_area_m2 : float
        Area of one glue line [m2].
    joints : int
        Joints in the stack [pieces].
    spread_g_m2 : float
        Spread wanted per glue line [g/m2].
    working_life_s : float
        Working life at the actual temperature [s].
    joint_time_s : float
        Time to spread and close one joint [s].
    preparation_s : float
        Part of each working life gone before its first joint begins [s].
    reserve_pct : float
        Extra for what stays in pot and brush, 0 to 100 [%].

    Returns
    -------
    MixPlan
        Number of mixes, joints and mass for each [see `MixPlan`].

    Raises
    ------
    ValueError
        If a figure is out of range or a mix can't close even one joint.

    References
    ----------
    Definition of working life and spread. Common practice, no source: a stack often
    needs more than one mix; each gets its own number and coupon.

    Examples
    --------
    >>> plan = plan_mixes(
    ...     0.25, 7, spread_g_m2=300, working_life_s=900, joint_time_s=180
    ... )
    >>> plan.joints_by_mix, plan.mass_by_mix_g
    ((4, 3), (300.0, 225.0))
    """
    area = glued_area(joint_area_m2, joints)
    coat = positive("spread", spread_g_m2, "g/m2")
    extra = 1 + within("reserve", reserve_pct, 0, 100, "%") / 100
    most = joints_within_life(working_life_s, joint_time_s, preparation_s)
    mixes = -(-joints // most)
    fewest, longer = divmod(joints, mixes)
    by_mix = tuple(fewest + (number < longer) for number in range(mixes))
    mass_per_joint = area / joints * coat * extra
    return MixPlan(
        joints_per_mix=most,
        joints_by_mix=by_mix,
        mass_by_mix_g=tuple(mass_per_joint * count for count in by_mix),
        stack_time_s=joints * joint_time_s + mixes * preparation_s,
    )
