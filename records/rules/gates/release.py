"""May this propeller be released? Every reason against it at once, as sentences."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from django.db.models import Model

from records.models import Deviation, Propeller, Stage
from records.queries.builds.progress import Progress, StageState, progress_of
from records.queries.builds.register import species_allowed, stack_of
from records.queries.conformity.release import (
    came_back,
    gauges_read,
    newer_revision,
    open_deviations,
    work_since,
)
from records.queries.reach.holds import holds_on
from records.queries.subjects import called
from records.rules.builds import propellers as builds
from records.rules.finding import Finding, warning
from records.rules.fitness import calibration_holds
from records.rules.gates.evidence import coupons_have_passed
from records.rules.gates.fields import empty_fields
from records.rules.gates.stage import missing, next_to_log
from records.rules.holds import hold_sentence
from records.rules.readings.slots import Slot
from records.spelling.moments import day, when


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason against a release, and where it can be put right.

    `short` is the sentence as it is said at its stage.
    """

    finding: Finding
    thing: Model
    short: str = ""
    stage: Stage | None = None
    slot: Slot | None = None
    deviation: Deviation | None = None


def release_findings(propeller: Propeller) -> list[Finding]:
    """Say everything that speaks against releasing a propeller, warnings included."""
    return [reason.finding for reason in release_reasons(propeller)]


def release_reasons(propeller: Propeller) -> list[Reason]:
    """Give every reason against a release with the place to put it right."""
    progress = progress_of(propeller)
    whole = progress.provenance.propeller or propeller
    state = [Reason(f, whole) for f in builds.in_the_shop(whole)]
    return state + standing_reasons(whole, progress)


def standing_reasons(propeller: Propeller, progress: Progress) -> list[Reason]:
    """Give the reasons against calling a propeller conforming, whatever its state."""
    return [
        *_design(propeller, progress),
        *_stages(propeller, progress),
        *(Reason(finding, propeller) for finding in empty_fields(progress)),
        *_coupons(progress),
        *_gauges(progress),
        *_holds(propeller),
        *_deviations(propeller, progress),
        *_repair(propeller, progress),
    ]


def _design(propeller: Propeller, progress: Progress) -> Iterator[Reason]:
    revision = propeller.revision
    name = f"{revision.design.model} {revision}"
    if revision.basis != revision.Basis.EXPERIMENTAL and not revision.basis_reference:
        sentence = (
            f"{name} is called {revision.get_basis_display()}, but names no type "
            "certificate or standard. Issue a revision that does."
        )
        yield Reason(Finding(sentence), propeller)
    if blank := progress.provenance.blank:
        woods = {x.board.lot.material.name for x in stack_of(blank)}
        allowed = list(species_allowed(revision).values())
        for finding in builds.design_fits_blank(revision, blank, woods, allowed):
            yield Reason(finding, propeller)
    if newer := newer_revision(revision):
        sentence = f"It is made to {name}; {newer} is newer. The record will say so."
        yield Reason(warning(sentence), propeller)


def _stages(propeller: Propeller, progress: Progress) -> Iterator[Reason]:
    if not progress.states:
        yield Reason(Finding("Its route has no stages."), propeller)
    # Earlier hold points are named as stages of their own, not once more in each.
    alone = replace(progress, states=[])
    whole = progress.provenance.propeller
    for state in progress.states:
        slot = next_to_log(state)
        for finding_of_stage in missing(alone, state):
            finding = replace(
                finding_of_stage,
                sentence=f"{_at(state, whole)}: {finding_of_stage.sentence}",
            )
            yield Reason(
                finding, state.subject, finding_of_stage.sentence, state.stage, slot
            )
        if state.signed is None:
            yield Reason(Finding(_unsigned(state)), state.subject, stage=state.stage)


def _at(state: StageState, whole: Model | None) -> str:
    name = state.stage.name
    return name if state.subject == whole else f"{name} of {called(state.subject)}"


def _unsigned(state: StageState) -> str:
    name = f"{state.stage.name} of {called(state.subject)}"
    if state.signatures:
        return f"The signature of {name} is void: {state.signatures[-1].void}."
    return f"{name} is not signed."


def _coupons(progress: Progress) -> Iterator[Reason]:
    """Ask for coupons also where no stage of the route does."""
    kinds = {state.stage.evidence for state in progress.states}
    blank = progress.provenance.blank
    if progress.states and blank and Stage.Evidence.COUPON not in kinds:
        for finding in coupons_have_passed(progress.states[0]):
            yield Reason(finding, blank)


def _gauges(progress: Progress) -> Iterator[Reason]:
    accepted = {pk for state in progress.states for pk in state.accepted}
    for read in gauges_read(progress):
        if read.reading and read.reading.pk in accepted:
            continue
        what = read.reading.characteristic.name if read.reading else "Pressure"
        for finding in calibration_holds(read.gauge, read.on, read.calibration):
            sentence = (
                f"{what} of {called(read.thing)} was read on {day(read.on)}: "
                f"{finding.sentence} Read it again, or open a deviation."
            )
            stage = read.reading.characteristic.stage if read.reading else None
            yield Reason(Finding(sentence), read.thing, stage=stage)


def _holds(propeller: Propeller) -> Iterator[Reason]:
    for hold in holds_on("propeller", propeller.pk):
        sentence = hold_sentence(hold, propeller)
        yield Reason(Finding(sentence), hold.subject, deviation=hold.deviation)


def _deviations(propeller: Propeller, progress: Progress) -> Iterator[Reason]:
    for deviation in open_deviations(progress):
        sentence = f"Deviation {deviation.number} is open: {deviation.title}."
        yield Reason(Finding(sentence), propeller, deviation=deviation)


def _repair(propeller: Propeller, progress: Progress) -> Iterator[Reason]:
    """Ask what was done, and for a last look, where it came back for work."""
    event = came_back(propeller)
    if propeller.state != Propeller.State.RETURNED or event is None:
        return
    since = when(event.happened_at)
    if not work_since(propeller, event):
        sentence = f"It came back on {since}; nothing is recorded of what was done."
        yield Reason(Finding(f"{sentence} Record the work."), propeller)
    last = next(
        (s for s in reversed(progress.of(propeller)) if s.characteristics()), None
    )
    if last and last.signed and last.signed.written_at < event.written_at:
        sentence = (
            f"{last.stage.name} was signed before it came back on {since}. "
            "Take its readings again, and sign."
        )
        yield Reason(Finding(sentence), propeller, stage=last.stage)
