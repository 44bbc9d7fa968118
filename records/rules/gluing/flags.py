"""What was flagged while glue was wet, and is not decided on yet: the gate asks this.

Glue-up warns and never stops. Afterwards each flag needs a decision by somebody with
authority: about the mix, the joint, the press load, or the blank as a whole.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field

from records.models import (
    DeviationSubject,
    JointSpread,
    LoadedBlank,
    Mix,
    PressLoad,
)
from records.queries.deviations.concessions import accepted_joints, accepted_things
from records.rules.finding import Finding


@dataclass(frozen=True, slots=True)
class Decided:
    """Keys of what closed deviations accept: mixes, loads, whole blanks, joints."""

    mixes: Collection[int] = field(default_factory=set)
    loads: Collection[int] = field(default_factory=set)
    blanks: Collection[int] = field(default_factory=set)
    joints: Collection[tuple[int, int]] = field(default_factory=set)


def decided_by(subjects: list[DeviationSubject]) -> Decided:
    """Sort the accepted subjects of a chain by what they are."""
    return Decided(
        mixes=accepted_things(subjects, "mix"),
        loads=accepted_things(subjects, "load"),
        blanks=accepted_things(subjects, "blank"),
        joints=accepted_joints(subjects),
    )


def mixes_are_decided(mixes: Iterable[Mix], decided: Decided) -> list[Finding]:
    """Say what was found about a mix that nobody decided on: ratio, date, warmth."""
    return [
        Finding(f"Mix {mix}: {sentence}")
        for mix in mixes
        if mix.pk not in decided.mixes
        for sentence in mix.flags.splitlines()
    ]


def joints_are_decided(
    spreads: Iterable[JointSpread], decided: Decided
) -> list[Finding]:
    """Say which joints were late or short of glue, and are not decided on."""
    return [
        Finding(f"Joint {spread.joint} with mix {spread.mix}: {sentence}")
        for spread in spreads
        if spread.verdict != JointSpread.Verdict.INSIDE
        and spread.blank_id not in decided.blanks
        and (spread.blank_id, spread.joint) not in decided.joints
        for sentence in spread.flags.splitlines()
    ]


def waiting_is_decided(rows: Iterable[LoadedBlank], decided: Decided) -> list[Finding]:
    """Say which blanks waited too long or too short for pressure."""
    return [
        Finding(f"Press load {row.load}: {sentence}")
        for row in rows
        if row.verdict == LoadedBlank.Verdict.OUTSIDE
        and row.blank_id not in decided.blanks
        and row.load_id not in decided.loads
        for sentence in row.flags.splitlines()
    ]


def loads_are_decided(loads: Iterable[PressLoad], decided: Decided) -> list[Finding]:
    """Say which press loads were flagged when they were closed or opened."""
    return [
        Finding(f"Press load {load}: {sentence}")
        for load in loads
        if load.pk not in decided.loads
        for sentence in (*load.flags.splitlines(), *load.opened_flags.splitlines())
    ]


def all_is_decided(
    mixes: Iterable[Mix],
    spreads: Iterable[JointSpread],
    rows: Iterable[LoadedBlank],
    decided: Decided,
) -> list[Finding]:
    """Say every flag of a blank's glue-up and pressing that is not decided on.

    `rows` come with their loads.
    """
    loaded = list(rows)
    return [
        *mixes_are_decided(mixes, decided),
        *joints_are_decided(spreads, decided),
        *waiting_is_decided(loaded, decided),
        *loads_are_decided([row.load for row in loaded], decided),
    ]
