"""What a propeller's page shows: what it is, is it all right, and what is next."""

from typing import Any

from django.urls import reverse

from records.models import Designation, Hold, MaterialChange, Propeller
from records.queries.boards import standing_readings
from records.queries.builds.progress import Progress, progress_of
from records.queries.builds.register import (
    designations_of,
    material_changes_of,
    stage_events_of,
)
from records.queries.conformity.register import record_in_force
from records.queries.files import attached_to
from records.rules.builds.propellers import IN_THE_SHOP
from records.rules.gates.stage import missing, next_stage
from records.spelling.moments import when
from records.spelling.numbers import plain
from records.spelling.quantities import length
from records.spelling.verdicts import Verdict
from records.web.builds.notes import note_lines, note_page, use_page
from records.web.builds.steps import stage_step
from records.web.shared.evidence import photo_lines, reading_lines, stage_lines
from records.web.shared.hold_steps import hold_findings, hold_step, holds_of
from records.web.shared.pages import log_page, page_of, usual_actions
from records.web.shared.parts import Action, Fact

State = Propeller.State
AT_AN_END = (State.SCRAPPED, State.RETIRED)


def propeller_page(propeller: Propeller, disabled_reason: str) -> dict[str, Any]:
    """Gather the page of a propeller.

    `disabled_reason` says why nothing may be written.
    """
    progress = progress_of(propeller)
    holds = holds_of(propeller)
    return {
        "propeller": propeller,
        "verdict": _verdict(propeller, progress, holds),
        "findings": hold_findings(holds, propeller),
        "step": hold_step(holds, disabled_reason)
        or _next(propeller, progress, disabled_reason),
        "facts": _facts(propeller),
        "stages": stage_lines(progress, propeller),
        "behind": [_behind(s.stage.name, s.subject) for s in _unsigned(progress)],
        "readings": reading_lines(standing_readings("propeller", propeller.pk)),
        "changes": [_change(c) for c in material_changes_of(propeller)],
        "designations": [_designation(d) for d in designations_of(propeller)],
        "notes": note_lines(stage_events_of(propeller)),
        "photos": photo_lines(attached_to("propeller", propeller.pk)),
        "actions": _actions(propeller, disabled_reason),
    }


def _verdict(propeller: Propeller, progress: Progress, holds: list[Hold]) -> Verdict:
    state = propeller.get_state_display()
    if propeller.state in AT_AN_END:
        return Verdict("void", state, "")
    if holds:
        return Verdict("hold", "on hold", state)
    if propeller.state not in IN_THE_SHOP:
        return Verdict("ok", state, "")
    return _verdict_of_work(propeller, progress)


def _verdict_of_work(propeller: Propeller, progress: Progress) -> Verdict:
    state = propeller.get_state_display()
    stage = next_stage(progress, propeller)
    if stage is None:
        return Verdict("ok", "every stage is signed", state)
    if stage.stale:
        return Verdict("stale", "readings went stale", state)
    count = len(missing(progress, stage))
    return Verdict(
        "waiting", state, f"{count} to do at {stage.stage.name}" if count else ""
    )


def _next(
    propeller: Propeller, progress: Progress, disabled_reason: str
) -> Action | None:
    at = [propeller.serial]
    if propeller.state == State.RELEASED:
        if record_in_force(propeller) is None:
            page = reverse("conformity:issue", args=at)
            return Action("Issue its conformity record", page, disabled_reason)
        return Action(
            "Hand it over", reverse("service:hand_over", args=at), disabled_reason
        )
    if propeller.state not in IN_THE_SHOP:
        return None
    stage = next_stage(progress, propeller)
    if stage is not None:
        return stage_step(propeller, stage, disabled_reason)
    return Action("Release it", reverse("conformity:release", args=at), disabled_reason)


def _unsigned(progress: Progress) -> list[Any]:
    """List the stages of blank, boards and lots that nobody has signed."""
    return [s for s in progress.states if s.kind != "propeller" and s.signed is None]


def _behind(stage: str, subject: Any) -> dict[str, str]:
    return {"stage": stage, "name": str(subject), "url": page_of(subject)}


def _facts(propeller: Propeller) -> list[Fact]:
    revision = propeller.revision
    turns = f"{revision.get_hand_display()}, {revision.get_mounting_display()}"
    size = f"{length(revision.diameter_mm)} by {length(revision.pitch_mm)}"
    return [
        Fact("Design", f"{revision.design.model} {revision}, {revision.drawing}"),
        Fact("Diameter and pitch", size),
        Fact("Blades", plain(revision.blades)),
        Fact("Rotation", turns),
        Fact("Basis", revision.get_basis_display()),
        Fact("Route", f"{propeller.blank.route.route}, {propeller.blank.route}"),
        Fact(
            "Started by", f"{propeller.written_by.name}, {when(propeller.written_at)}"
        ),
    ]


def _change(change: MaterialChange) -> Fact:
    who = f"{when(change.happened_at)}, {change.written_by.name}"
    return Fact(str(change), f"{change.reason} ({who})")


def _designation(designation: Designation) -> Fact:
    before, after = designation.before, designation.after
    names = f"{before.design.model} {before} to {after.design.model} {after}"
    who = f"{when(designation.happened_at)}, {designation.written_by.name}"
    return Fact(names, f"{designation.reason} ({who})")


def _actions(propeller: Propeller, disabled_reason: str) -> list[Action]:
    at = [propeller.serial]
    actions = [Action("Log a reading", log_page(propeller), disabled_reason)]
    if propeller.state in IN_THE_SHOP:
        actions += [
            Action(
                "Wood removed, or material added",
                reverse("builds:material", args=at),
                disabled_reason,
            ),
            Action(
                "Finish it as another design",
                reverse("builds:designate", args=at),
                disabled_reason,
            ),
            Action(
                "What a release still needs", reverse("conformity:release", args=at), ""
            ),
        ]
    return [
        *actions,
        Action(
            "Note a beginning, an end or a remark",
            note_page(propeller),
            disabled_reason,
        ),
        Action("Note material used on it", use_page(propeller), disabled_reason),
        Action(
            "Owner, service and hand-over", reverse("service:propeller", args=at), ""
        ),
        Action("Travel card", reverse("tags:card", args=["propeller", *at]), ""),
        Action("Build record (PDF)", reverse("conformity:build_record", args=at), ""),
        *usual_actions(propeller, disabled_reason),
    ]
