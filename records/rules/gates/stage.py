"""What a stage still needs before it can be signed: every reason, as sentences."""

from django.db.models import Model

from records.models import Reading, Stage
from records.queries.builds.progress import Progress, StageState, progress_of
from records.queries.subjects import WORDS, called
from records.rules.finding import Finding
from records.rules.gates.evidence import evidence_is_there
from records.rules.readings.hold_points import hold_points_open
from records.rules.readings.slots import Slot, in_words, open_slots
from records.spelling.readings import figure_of, limit_of, name_of

Verdict = Reading.Verdict
NAMED = 3
NOT_INSIDE = {Verdict.OUTSIDE, Verdict.UNDECIDED}


def missing_for_stage(subject: Model, stage: Stage) -> list[Finding]:
    """Say everything that is missing before a stage of a thing can be signed."""
    progress = progress_of(subject, stage.revision)
    state = progress.at(subject, stage.code)
    if state is None:
        return [Finding(f"{stage.name} is no stage of {called(subject)}.")]
    return missing(progress, state)


def missing(progress: Progress, state: StageState) -> list[Finding]:
    """Say what is missing for one stage of a progress read before: no query."""
    return [
        *_earlier(progress, state),
        *_readings(state),
        *_outside(state),
        *evidence_is_there(state),
    ]


def next_to_log(state: StageState) -> Slot | None:
    """Find the one reading to take next, or None when none is missing."""
    return next((s for s in open_slots(state) if not s.characteristic.is_range), None)


def next_stage(progress: Progress, subject: Model) -> StageState | None:
    """Find the first stage of a thing that no signature stands for."""
    return next((s for s in progress.of(subject) if s.signed is None), None)


def _earlier(progress: Progress, state: StageState) -> list[Finding]:
    """Name the hold points still open, those of several boards in one sentence."""
    by_stage: dict[str, list[StageState]] = {}
    for earlier in hold_points_open(progress, state.stage):
        by_stage.setdefault(earlier.stage.name, []).append(earlier)
    return [
        Finding(f"Hold point {name} of {_together(states)} is not signed yet.")
        for name, states in by_stage.items()
    ]


def _together(states: list[StageState]) -> str:
    names = [called(states[0].subject), *(str(s.subject) for s in states[1:NAMED])]
    more = len(states) - NAMED
    return ", ".join(names) + (f" and {more} more" if more > 0 else "")


def _readings(state: StageState) -> list[Finding]:
    findings = []
    wanted: dict[int, list[Slot]] = {}
    for slot in open_slots(state):
        wanted.setdefault(slot.characteristic.pk, []).append(slot)
    for characteristic in state.characteristics():
        if characteristic.pk in wanted:
            slots = wanted[characteristic.pk]
            findings.append(Finding(in_words(characteristic, slots, state.subject)))
        elif characteristic.required and not state.things(characteristic.on):
            word = WORDS[characteristic.on]
            findings.append(
                Finding(f"{characteristic.name} is missing: there is no {word} yet.")
            )
    return findings


def _outside(state: StageState) -> list[Finding]:
    return [
        Finding(outside_sentence(r))
        for r in state.current
        if r.verdict in NOT_INSIDE and r.pk not in state.accepted
    ]


def outside_sentence(reading: Reading) -> str:
    """Say that a reading is outside or undecided, and what can be done."""
    limits = limit_of(reading)
    held = f" ({limits})" if limits else ""
    return (
        f"{name_of(reading)}: {figure_of(reading)} is {reading.get_verdict_display()}"
        f"{held}. Open a deviation, or rework and read it again."
    )
