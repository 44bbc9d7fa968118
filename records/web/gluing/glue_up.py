"""The glue-up page: what is next, how long each joint and mix has left."""

import datetime as dt
from collections.abc import Iterator
from typing import Any

from django.urls import reverse
from django.utils.dateparse import parse_datetime

from records.models import Blank
from records.queries.gluing.clock import (
    Deadline,
    GlueClock,
    JointClock,
    MixClock,
    Standing,
    deadline,
    glue_clock,
)
from records.rules.finding import Finding, warning
from records.spelling.moments import clock as time_of_day
from records.spelling.moments import duration
from records.spelling.quantities import in_unit
from records.spelling.verdicts import Verdict
from records.web.shared.glue_lines import joint_line
from records.web.shared.parts import Action

WORDS = {
    Standing.IN_TIME: ("inside", "in time"),
    Standing.SOON: ("undecided", "soon over"),
    Standing.OVER: ("outside", "over"),
    Standing.UNKNOWN: ("no_limit", "limit not known"),
}


def glue_up_page(
    blank: Blank, now: dt.datetime, since: dt.datetime | None, disabled_reason: str
) -> dict[str, Any]:
    """Gather the page; `since` is when glue went on the next joint, if it did."""
    clock = glue_clock(blank, now)
    opened = _open_joint(clock, since)
    step = _next(blank, clock, opened, disabled_reason)
    return {
        "blank": blank,
        "now": time_of_day(now),
        "why_not": disabled_reason,
        "verdict": _verdict(clock, opened),
        "findings": [*_warnings(clock, opened), *_flags(clock)],
        "opened": opened,
        "clocks": list(_clocks(clock, opened)),
        "step": step,
        "joints": [_joint(joint) for joint in clock.joints],
        "mixes": [_mix(mix) for mix in clock.mixes],
        "others": _others(blank, clock, step, disabled_reason),
    }


def begun_at(text: str, now: dt.datetime) -> dt.datetime | None:
    """Read since when glue is on the next joint, from the page's address."""
    try:
        moment = parse_datetime(text)
    except ValueError:
        return None
    if moment is None or moment.tzinfo is None or moment > now:
        return None
    return moment


def closed_now(page: dict[str, Any]) -> dict[str, Any]:
    """Give what the button "is closed" stands for: joint, mix and first glue."""
    opened = page["opened"]
    if opened is None:
        return {}
    return {
        "this_joint": opened["joint"],
        "with_mix": opened["mix"].pk,
        "since": opened["since"].isoformat(),
    }


def usual_joint(blank: Blank, now: dt.datetime) -> dict[str, Any]:
    """Propose the next joint with the mix in hand, from the last joint until now."""
    clock = glue_clock(blank, now)
    if clock.in_hand is None:
        return {"joint": clock.next_joint}
    mix, last = clock.in_hand.mix, clock.last_closed_at
    return {
        "joint": clock.next_joint,
        "mix": mix,
        "spread_at": max(mix.mixed_at, last) if last else mix.mixed_at,
    }


def _open_joint(clock: GlueClock, since: dt.datetime | None) -> dict[str, Any] | None:
    if since is None or clock.next_joint is None or clock.in_hand is None:
        return None
    mix = clock.in_hand
    limit = deadline(since, mix.times.open_most_s, clock.at)
    return {
        "joint": clock.next_joint,
        "mix": mix.mix,
        "since": since,
        "since_word": time_of_day(since),
        "limit": limit,
    }


def _next(
    blank: Blank, clock: GlueClock, opened: dict[str, Any] | None, disabled_reason: str
) -> Action | None:
    """Name the one next action; None where it is the button of the open joint."""
    if opened is not None:
        return None
    if clock.next_joint is None:
        page = f"{reverse('pressing:load_press')}?blank={blank.number}"
        return Action("Close the press", page, disabled_reason)
    if clock.in_hand is None:
        return Action("Mix glue", _mix_page(blank), disabled_reason)
    page = f"{reverse('gluing:glue_up', args=[blank.number])}?on=now"
    return Action(f"Glue on joint {clock.next_joint} now", page, disabled_reason)


def _others(
    blank: Blank, clock: GlueClock, step: Action | None, disabled_reason: str
) -> list[Action]:
    here = reverse("gluing:glue_up", args=[blank.number])
    by_hand = reverse("gluing:close_joint", args=[blank.number])
    others = (
        [Action("Mix another", _mix_page(blank), disabled_reason)]
        if clock.mixes
        else []
    )
    if clock.mixes:
        others.append(Action("Enter a joint with its times", by_hand, disabled_reason))
    if clock.next_joint is not None:
        page = f"{reverse('pressing:load_press')}?blank={blank.number}"
        others.append(Action("Close the press now", page, disabled_reason))
    others.append(Action("Look again", here, ""))
    return [other for other in others if step is None or other[1] != step.url]


def _mix_page(blank: Blank) -> str:
    return f"{reverse('gluing:mix_glue')}?blank={blank.number}"


def _verdict(clock: GlueClock, opened: dict[str, Any] | None) -> Verdict:
    limits = [clock.press_by] if any(j.spreads for j in clock.joints) else []
    if clock.next_joint is not None and clock.in_hand is not None:
        limits.append(clock.in_hand.life)
    if opened is not None:
        limits.append(opened["limit"])
    worst = [
        standing
        for standing in (Standing.OVER, Standing.SOON, Standing.UNKNOWN)
        if any(limit.standing is standing for limit in limits)
    ]
    if any(s.flags for joint in clock.joints for s in joint.spreads):
        return Verdict("outside", "flagged", "go on; decide when it is in the press")
    if not limits:
        return Verdict("waiting", "no glue is on yet", "")
    shape, word = WORDS[worst[0] if worst else Standing.IN_TIME]
    return Verdict(shape, word, "")


def _warnings(clock: GlueClock, opened: dict[str, Any] | None) -> Iterator[Finding]:
    """Warn before a limit passes, and say so when it has."""
    if opened is not None:
        limit, joint = opened["limit"], opened["joint"]
        yield from _warn(limit, f"Joint {joint} is open", "Close it now.")
    if clock.next_joint is not None and clock.in_hand is not None:
        mix = clock.in_hand
        yield from _warn(mix.life, f"Mix {mix.mix} is in use", "Mix another.")
        for sentence in mix.times.unknown:
            yield warning(sentence)
    if any(joint.spreads for joint in clock.joints):
        yield from _warn(clock.press_by, "The stack waits for pressure", "Press now.")


def _warn(limit: Deadline, what: str, todo: str) -> Iterator[Finding]:
    if limit.at is None or limit.left_s is None:
        return
    until, left = time_of_day(limit.at), duration(limit.left_s)
    if limit.standing is Standing.SOON:
        yield warning(f"{what} until {until} at most: {left} left. {todo}")
    if limit.standing is Standing.OVER:
        yield Finding(
            f"{what}; its time was over at {until}, {left} ago. "
            "Go on: it is flagged, and decided later."
        )


def _flags(clock: GlueClock) -> Iterator[Finding]:
    for joint in clock.joints:
        for spread in joint.spreads:
            for sentence in spread.flags.splitlines():
                yield warning(f"Joint {joint.number}: {sentence}")


def _clocks(
    clock: GlueClock, opened: dict[str, Any] | None
) -> Iterator[dict[str, Any]]:
    """Name what runs: the open joint, the mix in hand, the wait for pressure."""
    if opened is not None:
        name = f"Joint {opened['joint']}, open since {opened['since_word']}"
        yield _clock(name, "close it by", opened["limit"])
    if clock.next_joint is not None and clock.in_hand is not None:
        mix = clock.in_hand
        warm = f"{in_unit(mix.mix.temperature_c, 'degC')}"
        yield _clock(f"Mix {mix.mix}, {warm}", "last joint closed by", mix.life)
    if any(joint.spreads for joint in clock.joints):
        early = clock.press_from
        note = ""
        if early is not None and early > clock.at:
            note = f", not before {time_of_day(early)}"
        yield _clock(f"The stack{note}", "pressure on by", clock.press_by)


def _clock(name: str, what: str, limit: Deadline) -> dict[str, Any]:
    known = limit.at is not None
    return {
        "name": name,
        "what": what,
        "at": limit.at.isoformat() if limit.at else "",
        "text": time_of_day(limit.at) if limit.at else "not known",
        "known": known,
        "css": {Standing.SOON: "is-near", Standing.OVER: "is-past"}.get(
            limit.standing, ""
        ),
    }


def _joint(joint: JointClock) -> dict[str, Any]:
    wanted = joint.press_by.at
    return {
        "number": joint.number,
        "lines": [joint_line(spread) for spread in joint.spreads],
        "closed": joint.closed,
        "press_by": f"pressure by {time_of_day(wanted)}" if wanted else "",
    }


def _mix(mix: MixClock) -> dict[str, str]:
    shape, word = WORDS[mix.life.standing]
    until = f"until {time_of_day(mix.life.at)}" if mix.life.at else ""
    return {
        "number": mix.mix.number,
        "about": f"{mix.mix.sheet.adhesive}, mixed {time_of_day(mix.mix.mixed_at)}",
        "verdict": shape,
        "word": word,
        "detail": until,
    }
