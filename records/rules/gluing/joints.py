"""What is found when a joint is closed: times are judged, nothing is stopped."""

import datetime as dt
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from records.models import Blank, JointSpread, Mix
from records.queries.gluing.times import GlueTimes
from records.rules.finding import Finding
from records.rules.moments import already_happened
from records.spelling.moments import clock, duration, when
from records.spelling.numbers import plain
from records.spelling.quantities import in_unit

Verdict = JointSpread.Verdict
_MM2_IN_M2 = 1e6


@dataclass(frozen=True, slots=True)
class Judged:
    """What the times come to, and all that was found, in sentences."""

    verdict: JointSpread.Verdict
    flags: tuple[str, ...]


def joint_is_possible(
    spread: JointSpread, standing: Collection[JointSpread], now: dt.datetime
) -> list[Finding]:
    """Say what can't be true of a joint that is about to be written.

    `standing` holds what is in the book about the same blank.
    """
    return (
        already_happened(spread.closed_at, now, "closed_at")
        + _joint_is_in_the_stack(spread.blank, spread.joint)
        + _times_follow(spread)
        + _not_in_the_book(spread, standing)
    )


def glue_may_still_go_on(blank: Blank) -> list[Finding]:
    """Say why no joint of a blank can be closed or corrected."""
    if blank.state == Blank.State.SCRAPPED:
        return [Finding(f"Blank {blank} is scrapped.")]
    return []


def judge_times(
    spread: JointSpread, times: GlueTimes, pressed: Sequence[dt.datetime] = ()
) -> Judged:
    """Hold a joint against the working life and assembly times of its mix.

    `pressed` holds when pressure went on its blank: empty while the joint is fresh,
    and then the closed assembly time is judged when the press closes.
    """
    late = _past_working_life(spread, times) + _past_open_time(spread, times)
    if pressed:
        closed = judge_closed_time(spread, times, _pressed_after(spread, pressed))
        late += closed.flags
    if late:
        return Judged(Verdict.OUTSIDE, (*late, *times.unknown))
    if times.working_life_s is None or times.unknown:
        unknown = times.unknown or ("The sheet gives no working life.",)
        return Judged(Verdict.UNKNOWN, unknown)
    return Judged(Verdict.INSIDE, ())


def judge_closed_time(
    spread: JointSpread, times: GlueTimes, pressed_at: dt.datetime | None
) -> Judged:
    """Hold the time from a joint closed to pressure on against the maker's.

    The open time already used shortens the longest closed time in proportion.
    """
    if pressed_at is None:
        return Judged(
            Verdict.OUTSIDE,
            (f"Joint {spread.joint} was closed after pressure went on.",),
        )
    waited = (pressed_at - spread.closed_at).total_seconds()
    opened = (spread.closed_at - spread.spread_at).total_seconds()
    most, least = times.closed_most_after(opened), times.closed_least_s
    waiting = f"Joint {spread.joint} with mix {spread.mix} waited {duration(waited)}"
    if most is not None and waited > most:
        after = f" after {duration(opened)} open" if times.open_most_s else ""
        limit = f"the sheet allows {duration(most)}{after}"
        return Judged(Verdict.OUTSIDE, (f"{waiting} for pressure; {limit}.",))
    if least is not None and waited < least:
        limit = f"the sheet asks for at least {duration(least)}"
        return Judged(Verdict.OUTSIDE, (f"{waiting} for pressure; {limit}.",))
    if most is None and least is None:
        return Judged(Verdict.UNKNOWN, times.unknown)
    return Judged(Verdict.INSIDE, ())


def spread_is_enough(
    spread: JointSpread, on_joint_g: float, area_mm2: float
) -> list[str]:
    """Say that the glue in a joint is less or more than the sheet asks.

    `on_joint_g` is all that was weighed on this joint, this line included: two mixes
    in one joint count together.
    """
    low, high = spread.mix.sheet.spread_low_gm2, spread.mix.sheet.spread_high_gm2
    per_area = on_joint_g / (area_mm2 / _MM2_IN_M2)
    if float(low) <= per_area <= float(high):
        return []
    figure = f"{in_unit(float(per_area), 'g/m2')} on joint {spread.joint}"
    return [f"{figure}; the sheet asks for {plain(low)} to {in_unit(high, 'g/m2')}."]


def mix_is_enough(mix: Mix, spread_g: float) -> list[str]:
    """Say that more glue was spread than was mixed."""
    mixed = float(mix.resin_g + mix.hardener_g)
    if spread_g <= mixed:
        return []
    return [
        (
            f"{in_unit(float(spread_g), 'g')} of mix {mix} is in joints; "
            f"{in_unit(float(mixed), 'g')} was mixed."
        )
    ]


def _joint_is_in_the_stack(blank: Blank, joint: int) -> list[Finding]:
    joints = blank.revision.laminations - 1
    if 1 <= joint <= joints:
        return []
    sentence = f"Joint {joint} is not in this stack; it has joints 1 to {joints}."
    return [Finding(sentence, "joint")]


def _times_follow(spread: JointSpread) -> list[Finding]:
    mix, findings = spread.mix, []
    if spread.spread_at < mix.mixed_at:
        sentence = (
            f"Mix {mix} was made at {when(mix.mixed_at)}; "
            "its glue can't have been spread before."
        )
        findings.append(Finding(sentence, "spread_at"))
    if spread.closed_at < spread.spread_at:
        sentence = (
            f"The joint can't be closed at {clock(spread.closed_at)}, before its "
            f"first glue at {clock(spread.spread_at)}."
        )
        findings.append(Finding(sentence, "closed_at"))
    return findings


def _not_in_the_book(
    spread: JointSpread, standing: Collection[JointSpread]
) -> list[Finding]:
    same = [
        other
        for other in standing
        if (other.joint, other.mix_id, other.side)
        == (spread.joint, spread.mix_id, spread.side)
        and other.pk != spread.corrects_id
    ]
    if not same:
        return []
    sentence = (
        f"Joint {spread.joint} with mix {spread.mix} is in the book, closed at "
        f"{clock(same[0].closed_at)}. Correct that line if it is not right."
    )
    return [Finding(sentence, "joint")]


def _past_working_life(spread: JointSpread, times: GlueTimes) -> tuple[str, ...]:
    used = (spread.closed_at - spread.mix.mixed_at).total_seconds()
    if times.working_life_s is None or used <= times.working_life_s:
        return ()
    closed = f"Closed {duration(used)} after mix {spread.mix} was made"
    life = duration(times.working_life_s)
    at = in_unit(spread.mix.temperature_c, "degC")
    return (f"{closed}; its working life at {at} is {life}.",)


def _past_open_time(spread: JointSpread, times: GlueTimes) -> tuple[str, ...]:
    opened = (spread.closed_at - spread.spread_at).total_seconds()
    if times.open_most_s is None or opened <= times.open_most_s:
        return ()
    allowed = duration(times.open_most_s)
    at = in_unit(spread.mix.temperature_c, "degC")
    return (f"Open for {duration(opened)}; the sheet allows {allowed} at {at}.",)


def _pressed_after(
    spread: JointSpread, pressed: Sequence[dt.datetime]
) -> dt.datetime | None:
    return next((at for at in sorted(pressed) if at >= spread.closed_at), None)
