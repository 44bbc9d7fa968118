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
from records.templatetags.quantities import length, plain, when
from records.web.builds.notes import note_lines, note_page, use_page
from records.web.builds.steps import stage_step
from records.web.shared.evidence import photo_lines, reading_lines, stage_lines
from records.web.shared.hold_steps import hold_findings, hold_step, holds_of
from records.web.shared.pages import (
    Step,
    log_page,
    page_of,
    usual_actions,
)

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


def _verdict(
    propeller: Propeller, progress: Progress, holds: list[Hold]
) -> tuple[str, str, str]:
    state = propeller.get_state_display()
    if propeller.state in AT_AN_END:
        return "void", state, ""
    if holds:
        return "hold", "on hold", state
    if propeller.state not in IN_THE_SHOP:
        return "ok", state, ""
    return _verdict_of_work(propeller, progress)


def _verdict_of_work(propeller: Propeller, progress: Progress) -> tuple[str, str, str]:
    state = propeller.get_state_display()
    stage = next_stage(progress, propeller)
    if stage is None:
        return "ok", "every stage is signed", state
    if stage.stale:
        return "stale", "readings went stale", state
    count = len(missing(progress, stage))
    return "waiting", state, f"{count} to do at {stage.stage.name}" if count else ""


def _next(
    propeller: Propeller, progress: Progress, disabled_reason: str
) -> Step | None:
    at = [propeller.serial]
    if propeller.state == State.RELEASED:
        if record_in_force(propeller) is None:
            page = reverse("conformity:issue", args=at)
            return Step("Issue its conformity record", page, disabled_reason)
        return Step(
            "Hand it over", reverse("service:hand_over", args=at), disabled_reason
        )
    if propeller.state not in IN_THE_SHOP:
        return None
    stage = next_stage(progress, propeller)
    if stage is not None:
        return stage_step(propeller, stage, disabled_reason)
    return Step("Release it", reverse("conformity:release", args=at), disabled_reason)


def _unsigned(progress: Progress) -> list[Any]:
    """List the stages of blank, boards and lots that nobody has signed."""
    return [s for s in progress.states if s.kind != "propeller" and s.signed is None]


def _behind(stage: str, subject: Any) -> dict[str, str]:
    return {"stage": stage, "name": str(subject), "url": page_of(subject)}


def _facts(propeller: Propeller) -> list[tuple[str, str]]:
    revision = propeller.revision
    turns = f"{revision.get_hand_display()}, {revision.get_mounting_display()}"
    size = f"{length(revision.diameter_mm)} by {length(revision.pitch_mm)}"
    return [
        ("Design", f"{revision.design.model} {revision}, {revision.drawing}"),
        ("Diameter and pitch", size),
        ("Blades", plain(revision.blades)),
        ("Rotation", turns),
        ("Basis", revision.get_basis_display()),
        ("Route", f"{propeller.blank.route.route}, {propeller.blank.route}"),
        ("Started by", f"{propeller.written_by.name}, {when(propeller.written_at)}"),
    ]


def _change(change: MaterialChange) -> tuple[str, str]:
    who = f"{when(change.happened_at)}, {change.written_by.name}"
    return str(change), f"{change.reason} ({who})"


def _designation(designation: Designation) -> tuple[str, str]:
    before, after = designation.before, designation.after
    names = f"{before.design.model} {before} to {after.design.model} {after}"
    who = f"{when(designation.happened_at)}, {designation.written_by.name}"
    return names, f"{designation.reason} ({who})"


def _actions(propeller: Propeller, disabled_reason: str) -> list[tuple[str, str, str]]:
    at = [propeller.serial]
    actions = [("Log a reading", log_page(propeller), disabled_reason)]
    if propeller.state in IN_THE_SHOP:
        actions += [
            (
                "Wood removed, or material added",
                reverse("builds:material", args=at),
                disabled_reason,
            ),
            (
                "Finish it as another design",
                reverse("builds:designate", args=at),
                disabled_reason,
            ),
            ("What a release still needs", reverse("conformity:release", args=at), ""),
        ]
    return [
        *actions,
        ("Note a beginning, an end or a remark", note_page(propeller), disabled_reason),
        ("Note material used on it", use_page(propeller), disabled_reason),
        ("Owner, service and hand-over", reverse("service:propeller", args=at), ""),
        ("Travel card", reverse("tags:card", args=["propeller", *at]), ""),
        ("Build record (PDF)", reverse("conformity:build_record", args=at), ""),
        *usual_actions(propeller, disabled_reason),
    ]
