"""The glue-up against the clock: what is in each joint, and how long each has left."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from records.models import Blank, JointSpread, Mix
from records.queries.gluing.mixes import joints_of, mixes_for
from records.queries.gluing.times import GlueTimes, tables_of

SOON_SHARE = 0.2
SOON_AT_LEAST_S = 120.0
"""A limit is near with a fifth of its time left, or two minutes: own choice."""


class Standing(StrEnum):
    """Where the clock stands against a limit."""

    IN_TIME = "in time"
    SOON = "soon"
    OVER = "over"
    UNKNOWN = "not known"


@dataclass(frozen=True, slots=True)
class Deadline:
    """A moment by which something is to be done; None where nobody knows."""

    at: dt.datetime | None
    left_s: float | None = None
    standing: Standing = Standing.UNKNOWN


@dataclass(frozen=True, slots=True)
class MixClock:
    """A mix, until when it works, and how long its joint may stay open."""

    mix: Mix
    life: Deadline
    times: GlueTimes
    elsewhere: bool = False


@dataclass(frozen=True, slots=True)
class JointClock:
    """A joint: the lines that stand in it, and when pressure is wanted."""

    number: int
    spreads: list[JointSpread] = field(default_factory=list)
    press_by: Deadline = Deadline(None)
    press_from: dt.datetime | None = None

    @property
    def closed(self) -> bool:
        """Tell whether glue on both faces is in the book."""
        sides = {s.side for s in self.spreads}
        both = {JointSpread.Side.LOWER, JointSpread.Side.UPPER}
        return JointSpread.Side.BOTH in sides or sides >= both


@dataclass(frozen=True, slots=True)
class GlueClock:
    """A whole glue-up at one moment."""

    at: dt.datetime
    mixes: list[MixClock]
    joints: list[JointClock]

    @property
    def next_joint(self) -> int | None:
        """The lowest joint that is not closed; None when all are."""
        return next((j.number for j in self.joints if not j.closed), None)

    @property
    def in_hand(self) -> MixClock | None:
        """The newest mix whose life is not over, or else the newest of all.

        A mix that stands in other blanks only is not taken for this one's.
        """
        own = [m for m in self.mixes if not m.elsewhere]
        working = [m for m in own if m.life.standing is not Standing.OVER]
        choices = working or own
        return choices[-1] if choices else None

    @property
    def press_by(self) -> Deadline:
        """When pressure is wanted for the joint that can wait least."""
        known = [j.press_by for j in self.joints if j.press_by.at is not None]
        return min(known, key=lambda d: d.left_s or 0.0, default=Deadline(None))

    @property
    def press_from(self) -> dt.datetime | None:
        """Before when pressure would come too soon for some joint."""
        return max((j.press_from for j in self.joints if j.press_from), default=None)

    @property
    def last_closed_at(self) -> dt.datetime | None:
        """When the last joint was closed."""
        moments = [s.closed_at for joint in self.joints for s in joint.spreads]
        return max(moments, default=None)


def glue_clock(blank: Blank, at: dt.datetime) -> GlueClock:
    """Read the clock of a glue-up: three queries. `blank` comes with its design."""
    mixes, spreads = mixes_for(blank, at), joints_of(blank)
    tables = tables_of({m.sheet_id for m in mixes})
    times = {m.pk: tables[m.sheet_id].at(float(m.temperature_c)) for m in mixes}
    return GlueClock(
        at=at,
        mixes=[_mix(mix, times[mix.pk], at) for mix in mixes],
        joints=[
            _joint(number, [s for s in spreads if s.joint == number], times, at)
            for number in range(1, blank.revision.laminations)
        ],
    )


def deadline(begun: dt.datetime, allowed_s: float | None, at: dt.datetime) -> Deadline:
    """Hold the clock against a time allowed since something began."""
    if allowed_s is None:
        return Deadline(None)
    end = begun + dt.timedelta(seconds=allowed_s)
    left = (end - at).total_seconds()
    soon = max(SOON_SHARE * allowed_s, SOON_AT_LEAST_S)
    if left < 0:
        return Deadline(end, left, Standing.OVER)
    return Deadline(end, left, Standing.SOON if left <= soon else Standing.IN_TIME)


def _mix(mix: Mix, times: GlueTimes, at: dt.datetime) -> MixClock:
    life = deadline(mix.mixed_at, times.working_life_s, at)
    return MixClock(mix, life, times, elsewhere=getattr(mix, "elsewhere", False))


def _joint(
    number: int,
    spreads: Sequence[JointSpread],
    times: dict[int, GlueTimes],
    at: dt.datetime,
) -> JointClock:
    waits = [_press_by(s, times[s.mix_id], at) for s in spreads]
    known = [wait for wait in waits if wait.at is not None]
    after = [_press_from(s, times[s.mix_id]) for s in spreads]
    return JointClock(
        number=number,
        spreads=list(spreads),
        press_by=min(known, key=lambda d: d.left_s or 0.0, default=Deadline(None)),
        press_from=max((x for x in after if x), default=None),
    )


def _press_by(spread: JointSpread, times: GlueTimes, at: dt.datetime) -> Deadline:
    opened = (spread.closed_at - spread.spread_at).total_seconds()
    return deadline(spread.closed_at, times.closed_most_after(opened), at)


def _press_from(spread: JointSpread, times: GlueTimes) -> dt.datetime | None:
    if not times.closed_least_s:
        return None
    return spread.closed_at + dt.timedelta(seconds=times.closed_least_s)
