"""What may become of a blank or a propeller, and what may not."""

import datetime as dt
from collections.abc import Collection

from records.models import Blank, Propeller, Revision, RouteRevision, Stage, StageEvent
from records.queries.subjects import called
from records.rules.finding import Finding
from records.rules.numbers import number_can_be_scanned

IN_THE_SHOP = (Propeller.State.IN_WORK, Propeller.State.RETURNED)
GLUED = (Blank.State.GLUED, Blank.State.SHAPED)


def blank_may_be_planned(revision: Revision, route: RouteRevision) -> list[Finding]:
    """Say why no blank is planned to this design on this route."""
    findings = []
    if not revision.design.in_use:
        sentence = f"The shop does not make {revision.design.model} any more."
        findings.append(Finding(sentence, "revision"))
    if not route.route.in_use:
        sentence = f"The shop does not build by route {route.route} any more."
        findings.append(Finding(sentence, "route"))
    return findings


def propeller_may_start(blank: Blank) -> list[Finding]:
    """Say why no propeller can be started from a blank."""
    if blank.state in GLUED:
        return []
    return [
        Finding(
            f"Blank {blank} is {blank.get_state_display()}. A propeller is started "
            "from a blank that is glued and out of the press."
        )
    ]


def serial_may_be_given(serial: str, taken: Propeller | None) -> list[Finding]:
    """Say why a serial can't be given."""
    if findings := number_can_be_scanned(serial, "serial"):
        return findings
    if taken is None:
        return []
    return [
        Finding(
            f"Serial {serial} is in the book: {taken.get_state_display()}. "
            "No serial is ever used twice.",
            "serial",
        )
    ]


def design_fits_blank(
    revision: Revision, blank: Blank, woods: Collection[str], allowed: Collection[str]
) -> list[Finding]:
    """Say why a propeller of this design can't be made of a blank.

    `woods` names the species laid in the blank, `allowed` those the design allows.
    """
    name = f"{revision.design.model} {revision}"
    findings = []
    if revision.laminations != blank.revision.laminations:
        findings.append(
            f"{name} has {revision.laminations} laminations; "
            f"blank {blank} has {blank.revision.laminations}."
        )
    for wood in sorted(set(woods) - set(allowed)):
        names = ", ".join(sorted(allowed)) or "none"
        findings.append(f"{wood} is in blank {blank}; {name} allows: {names}.")
    return [Finding(sentence, "revision") for sentence in findings]


def may_be_designated(propeller: Propeller, revision: Revision) -> list[Finding]:
    """Say why a propeller can't be finished, or remade, as another design."""
    findings = in_the_shop(propeller)
    if propeller.revision_id == revision.pk:
        name = f"{revision.design.model} {revision}"
        sentence = f"Propeller {propeller} is {name} already."
        findings.append(Finding(sentence, "revision"))
    return findings


def in_the_shop(propeller: Propeller) -> list[Finding]:
    """Say why nothing is done to a propeller now."""
    if propeller.state in IN_THE_SHOP:
        return []
    todo = "Take it back for repair first."
    if propeller.state in {Propeller.State.SCRAPPED, Propeller.State.RETIRED}:
        todo = "Nothing is done to it any more."
    state = propeller.get_state_display()
    return [Finding(f"Propeller {propeller} is {state}. {todo}")]


def stage_is_of(stage: Stage, subject: Blank | Propeller) -> list[Finding]:
    """Say why nothing can be noted at a stage for a blank or propeller."""
    scope = "blank" if isinstance(subject, Blank) else "propeller"
    blank = subject if isinstance(subject, Blank) else subject.blank
    findings = []
    if stage.revision_id != blank.route_id:
        findings.append(
            f"{stage} is a stage of another route than {called(subject)} follows."
        )
    if stage.scope != scope:
        findings.append(
            f"{stage} belongs to a {stage.get_scope_display()}, not to a {scope}."
        )
    return [Finding(sentence, "stage") for sentence in findings]


def began_before_it_ended(
    kind: str, happened_at: dt.datetime, events: Collection[StageEvent]
) -> list[Finding]:
    """Say what is wrong with an end that has no beginning, or comes before it."""
    began = [e.happened_at for e in events if e.kind == StageEvent.Kind.BEGAN]
    if kind != StageEvent.Kind.ENDED or any(at <= happened_at for at in began):
        return []
    return [
        Finding("It is not noted that this began before. Note the beginning first.")
    ]
