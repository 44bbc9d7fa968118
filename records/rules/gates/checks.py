"""The kind of check a signature may honestly be called."""

import datetime as dt
from collections.abc import Iterable

from records.models import Person, Stage
from records.queries.builds.progress import Progress, StageState
from records.rules.finding import Finding
from records.spelling.moments import duration, when

Kind = Stage.CheckKind
RANK = {Kind.SELF: 0, Kind.LATER: 1, Kind.INDEPENDENT: 2}


def last_work_of(
    person: Person, progress: Progress, state: StageState
) -> dt.datetime | None:
    """Find when somebody last had a hand in a stage, by the clock of the book.

    Its readings, events, joints, loads, checks and coupons count. Where a stage has
    none of these, the whole build up to it does: nobody is independent of nothing.
    """
    work = list(_work_of(state))
    if not work:
        earlier = [s for s in progress.states if s.stage.order <= state.stage.order]
        work = [row for s in earlier for row in _work_of(s)]
    return max((at for who, at in work if who == person.pk), default=None)


def kinds_open_to(
    person: Person,
    progress: Progress,
    state: StageState,
    *,
    delay_h: int,
    now: dt.datetime,
) -> list[Stage.CheckKind]:
    """List the kinds of check somebody may claim now, the weakest first."""
    last = last_work_of(person, progress, state)
    if last is None:
        return [Kind.SELF, Kind.INDEPENDENT]
    if now >= last + dt.timedelta(hours=delay_h):
        return [Kind.SELF, Kind.LATER]
    return [Kind.SELF]


def check_is_honest(
    *,
    person: Person,
    progress: Progress,
    state: StageState,
    claimed: str,
    delay_h: int,
    now: dt.datetime,
) -> list[Finding]:
    """Say why a check may not be called what it is called, or is not enough."""
    findings = []
    kind = Kind(claimed)
    free = kinds_open_to(person, progress, state, delay_h=delay_h, now=now)
    if kind not in free:
        last = last_work_of(person, progress, state)
        findings.append(Finding(_why_not(person, kind, last, delay_h), "check_kind"))
    wanted = Kind(state.stage.check_kind)
    if RANK[kind] < RANK[wanted]:
        findings.append(
            Finding(
                f"{state.stage.name} needs at least: {wanted.label}. "
                f"This would be: {kind.label}.",
                "check_kind",
            )
        )
    return findings


def _why_not(
    person: Person, kind: Stage.CheckKind, last: dt.datetime | None, delay_h: int
) -> str:
    if last is None:
        return (
            f"{person.name} had no hand in this stage: it is a check by an "
            "independent person."
        )
    if kind == Kind.INDEPENDENT:
        return (
            f"{person.name} had a hand in this stage on {when(last)}, so this is no "
            "check by an independent person."
        )
    wait = duration(delay_h * 3600)
    free = last + dt.timedelta(hours=delay_h)
    return (
        f"{person.name} last worked on this stage on {when(last)}; the shop waits "
        f"{wait} before the same person looks again, until {when(free)}."
    )


def _work_of(state: StageState) -> Iterable[tuple[int, dt.datetime]]:
    rested_on = state.evidence.rows(state.stage, state.subject)
    rows = [*state.readings, *state.replaced, *state.events, *rested_on]
    return ((row.written_by_id, row.written_at) for row in rows)
