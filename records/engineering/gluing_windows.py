"""Working life, open and closed assembly time of a joint against the clock."""

import math
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from records.engineering.validity import finite, not_negative, spelled


class Timing(StrEnum):
    """Where an elapsed time stands against its window; both edges are within."""

    TOO_SOON = "too soon"
    WITHIN = "within"
    TOO_LATE = "too late"


@dataclass(frozen=True, slots=True)
class WindowState:
    """One window of one joint.

    Attributes
    ----------
    elapsed_s : float
        Time since the window began, to its end or to now [s].
    until_minimum_s : float
        Time still to wait; 0 once the minimum has passed [s].
    remaining_s : float or None
        Time left to the maximum; negative once it has passed, None without one [s].
    timing : Timing
        Too soon, within or too late [-].
    """

    elapsed_s: float
    until_minimum_s: float
    remaining_s: float | None
    timing: Timing


@dataclass(frozen=True, slots=True)
class GlueLimits:
    """The maker's times at the actual temperature; None where the sheet has none.

    Attributes
    ----------
    working_life_s : float or None
        Longest from mixing to the joint closed [s].
    open_maximum_s : float or None
        Longest open assembly time [s].
    closed_maximum_s : float or None
        Longest closed assembly time [s].
    open_minimum_s : float
        Shortest open assembly time [s].
    closed_minimum_s : float
        Shortest closed assembly time [s].
    """

    working_life_s: float | None
    open_maximum_s: float | None
    closed_maximum_s: float | None
    open_minimum_s: float = 0.0
    closed_minimum_s: float = 0.0


@dataclass(frozen=True, slots=True)
class JointTimes:
    """When a joint's steps took place, on one clock.

    Attributes
    ----------
    mixed_s : float
        Mix made [s].
    spread_s : float
        First glue on the joint [s].
    closed_s : float or None
        Faces laid together; None while open [s].
    pressed_s : float or None
        Full pressure on; None while it is not [s].
    """

    mixed_s: float
    spread_s: float
    closed_s: float | None = None
    pressed_s: float | None = None


@dataclass(frozen=True, slots=True)
class JointState:
    """A joint against all its windows.

    Attributes
    ----------
    working_life : WindowState
        From mixing to the joint closed, or to now [s].
    open_assembly : WindowState
        From first glue to the joint closed, or to now [s].
    closed_assembly : WindowState or None
        From the joint closed to pressure on, or to now; None while open [s].
    """

    working_life: WindowState
    open_assembly: WindowState
    closed_assembly: WindowState | None


def judge_window(
    elapsed_s: float, minimum_s: float, maximum_s: float | None
) -> WindowState:
    """Hold an elapsed time against both ends of its window.

    Parameters
    ----------
    elapsed_s : float
        Time since the window began [s].
    minimum_s : float
        Shortest time allowed [s].
    maximum_s : float or None
        Longest time allowed; None if the glue sheet gives none [s].

    Returns
    -------
    WindowState
        Elapsed, to wait, remaining and the verdict [s].

    Raises
    ------
    ValueError
        If a time is negative or the maximum is below the minimum.

    References
    ----------
    Open and closed assembly time as in ASTM D907 (from memory); exactly on a limit
    is within, ISO 14253-1:2017 without uncertainty.

    Examples
    --------
    >>> judge_window(700, 0, 600).remaining_s
    -100.0
    """
    elapsed = not_negative("elapsed time", elapsed_s, "s")
    shortest = not_negative("shortest time", minimum_s, "s")
    longest = math.inf if maximum_s is None else finite("longest time", maximum_s)
    if longest < shortest:
        raise ValueError(
            f"longest time {spelled(longest, 's')} is below the shortest time "
            f"{spelled(shortest, 's')}; check the glue sheet"
        )
    if elapsed < shortest:
        timing = Timing.TOO_SOON
    else:
        timing = Timing.WITHIN if elapsed <= longest else Timing.TOO_LATE
    return WindowState(
        elapsed_s=elapsed,
        until_minimum_s=max(shortest - elapsed, 0.0),
        remaining_s=None if maximum_s is None else longest - elapsed,
        timing=timing,
    )


def judge_joint(times: JointTimes, limits: GlueLimits, now_s: float) -> JointState:
    """Hold a joint against working life, open and closed assembly time.

    The working life counts until the joint is closed, since only then is all its
    glue laid. A window that has not ended is judged as if it ended now.

    Parameters
    ----------
    times : JointTimes
        When its steps took place [s].
    limits : GlueLimits
        The maker's times at the actual temperature [s].
    now_s : float
        The present, on the same clock [s].

    Returns
    -------
    JointState
        Each window elapsed, remaining and judged [s].

    Raises
    ------
    ValueError
        If a step comes before the one it follows, or lies in the future.

    References
    ----------
    Open assembly time: from spreading to laying together; closed: from there to
    pressure, ASTM D907 (from memory).

    Examples
    --------
    A joint spread 2 min after mixing and open for 12 min of the 10 that the bulletin
    for a resorcinol glue allows at 70 degF:

    >>> limits = GlueLimits(13500, 600, 3600)
    >>> state = judge_joint(JointTimes(0, 120, 840), limits, now_s=900)
    >>> state.open_assembly.timing, state.closed_assembly.remaining_s
    (<Timing.TOO_LATE: 'too late'>, 3540.0)
    """
    _in_order(times, now_s)
    until = now_s if times.closed_s is None else times.closed_s
    closed = None
    if times.closed_s is not None:
        pressed = now_s if times.pressed_s is None else times.pressed_s
        closed = judge_window(
            pressed - times.closed_s, limits.closed_minimum_s, limits.closed_maximum_s
        )
    return JointState(
        working_life=judge_window(until - times.mixed_s, 0, limits.working_life_s),
        open_assembly=judge_window(
            until - times.spread_s, limits.open_minimum_s, limits.open_maximum_s
        ),
        closed_assembly=closed,
    )


def _in_order(times: JointTimes, now_s: float) -> None:
    if times.pressed_s is not None and times.closed_s is None:
        raise ValueError(
            "pressure is on a joint that was not closed; enter when it was"
        )
    steps = (
        ("the mix was made", times.mixed_s),
        ("glue was spread", times.spread_s),
        ("the joint was closed", times.closed_s),
        ("pressure came on", times.pressed_s),
        ("now", now_s),
    )
    known = [(name, finite(name, at)) for name, at in steps if at is not None]
    for (before, earlier), (after, later) in pairwise(known):
        if later < earlier:
            raise ValueError(
                f"{after} ({spelled(later, 's')}) comes before {before} "
                f"({spelled(earlier, 's')}); check the times"
            )
