"""What a blank's page shows: its stack, joints, press loads and stages."""

from typing import Any

from django.urls import reverse

from records.models import Blank, Hold, Lamination, LoadedBlank
from records.queries.boards import standing_readings
from records.queries.builds.progress import progress_of
from records.queries.builds.register import (
    loads_of,
    propellers_of,
    stack_of,
    stage_events_of,
    voided_of,
)
from records.queries.builds.stacking import Proposal, proposed
from records.queries.files import attached_to
from records.queries.gluing.mixes import corrected_joints
from records.rules.builds.stacking import pairs_weigh_alike
from records.rules.finding import Finding, warning
from records.rules.gluing.flags import all_is_decided, decided_by
from records.spelling.moments import when
from records.spelling.quantities import in_unit, unbalance
from records.spelling.verdicts import Verdict
from records.web.builds.notes import note_lines, note_page, use_page
from records.web.builds.steps import Stack, next_step
from records.web.shared.evidence import photo_lines, reading_lines, stage_lines
from records.web.shared.glue_lines import (
    corrected_joint_line,
    coupon_line,
    joint_line,
)
from records.web.shared.hold_steps import hold_findings, holds_of
from records.web.shared.pages import log_page, page_of, usual_actions
from records.web.shared.parts import Action, Fact

State = Blank.State


def blank_page(blank: Blank, disabled_reason: str) -> dict[str, Any]:
    """Gather the page of a blank.

    `disabled_reason` says why nothing may be written.
    """
    stack = Stack(
        blank, stack_of(blank), voided_of(blank), loads_of(blank), progress_of(blank)
    )
    holds = holds_of(blank)
    flagged = flagged_of(stack)
    proposal = proposed(stack.laid, float(blank.revision.lamination_mm))
    return {
        "blank": blank,
        "verdict": _verdict(blank, holds, flagged),
        "findings": [
            *hold_findings(holds, blank),
            *flagged,
            *pairs_weigh_alike(stack.laid),
        ],
        "step": next_step(stack, holds, disabled_reason),
        "facts": _facts(blank),
        "stages": stage_lines(stack.progress, blank),
        "places": places_of(stack, disabled_reason),
        "balance": _balance(proposal) if stack.whole else [],
        "proposal": _proposal(stack, proposal),
        "joints": [joint_line(spread) for spread in stack.joints],
        "corrected": [corrected_joint_line(s) for s in corrected_joints(blank)],
        "loads": [_load(row) for row in stack.loads],
        "coupons": [coupon_line(c) for c in stack.progress.provenance.coupons],
        "propellers": propellers_of(blank),
        "notes": note_lines(stage_events_of(blank)),
        "readings": reading_lines(standing_readings("blank", blank.pk)),
        "photos": photo_lines(attached_to("blank", blank.pk)),
        "actions": _actions(stack, disabled_reason),
    }


def flagged_of(stack: Stack) -> list[Finding]:
    """Say what was flagged while glue was wet and is not decided on."""
    states = stack.progress.states
    decided = decided_by(states[0].evidence.accepted if states else [])
    mixes = stack.progress.provenance.joint_mixes
    return all_is_decided(mixes, stack.joints, stack.loads, decided)


def places_of(stack: Stack, disabled_reason: str) -> list[dict[str, Any]]:
    """Give the places from the top down, as a stack is looked at."""
    blank = stack.blank
    lies = {x.position: x for x in stack.laid}
    open_ = blank.state in {State.STACKING, State.GLUING}
    places = []
    for place in range(blank.revision.laminations, 0, -1):
        may = (open_ or place not in lies) and not disabled_reason
        page = reverse("builds:place", args=[blank.number, place]) if may else ""
        gaps = [x for x in stack.voided if x.position == place]
        places.append(
            {
                "place": place,
                "piece": _piece(lies[place]) if place in lies else None,
                "page": page,
                "gaps": [f"{x.number} is void here: {x.void_reason}" for x in gaps],
            }
        )
    return places


def _piece(lamination: Lamination) -> dict[str, str]:
    board = lamination.board
    weighed = (
        f"{in_unit(lamination.mass_g, 'g')}" if lamination.mass_g else "not weighed"
    )
    mark = f", mark {lamination.end_mark}" if lamination.end_mark else ""
    turned = ", turned end for end" if lamination.turned else ""
    return {
        "number": lamination.number,
        "url": page_of(lamination),
        "about": f"{board.lot.material}, board {board}, lot {board.lot}, "
        f"{weighed}{mark}{turned}",
    }


def _verdict(blank: Blank, holds: list[Hold], flagged: list[Finding]) -> Verdict:
    state = blank.get_state_display()
    if blank.state == State.SCRAPPED:
        return Verdict("void", state, "")
    if holds:
        return Verdict("hold", "on hold", state)
    if flagged:
        return Verdict("outside", "flagged", f"{state}; a decision is needed")
    return Verdict("ok", "nothing against it", state)


def _facts(blank: Blank) -> list[Fact]:
    revision = blank.revision
    return [
        Fact("Planned as", f"{revision.design.model} {revision}, {revision.drawing}"),
        Fact(
            "Laminations",
            f"{revision.laminations} of {in_unit(revision.lamination_mm, 'mm')}",
        ),
        Fact("Route", f"{blank.route.route}, {blank.route}"),
        Fact("Planned by", f"{blank.written_by.name}, {when(blank.written_at)}"),
    ]


def _balance(proposal: Proposal) -> list[Fact]:
    if proposal.along_now is None:
        return [Fact("Predicted unbalance", f"not known. {proposal.why_not}")]
    facts = [Fact("Predicted along the blades", unbalance(proposal.along_now))]
    if proposal.through_now is not None:
        facts.append(
            Fact("Predicted through the stack", unbalance(proposal.through_now))
        )
    return facts


def _proposal(stack: Stack, proposal: Proposal) -> str:
    """Give the path of a better order, where there is one and it may still be laid."""
    if stack.blank.state != State.STACKING or not stack.whole:
        return ""
    if not proposal.order or proposal.changes_nothing:
        return ""
    return reverse("builds:proposal", args=[stack.blank.number])


def _load(row: LoadedBlank) -> dict[str, Any]:
    load = row.load
    until = when(load.off_at) if load.off_at else "still on"
    words = {"inside": "joints waited as asked", "unknown": "waiting not known"}
    shapes = {"inside": "inside", "unknown": "no_limit"}
    return {
        "number": load.number,
        "url": page_of(load),
        "about": f"{load.press}, {when(load.on_at)} to {until}",
        "verdict": shapes.get(row.verdict, "outside"),
        "word": words.get(row.verdict, "flagged"),
        "flags": [warning(sentence) for sentence in row.flags.splitlines()],
    }


def _actions(stack: Stack, disabled_reason: str) -> list[Action]:
    blank, at = stack.blank, [stack.blank.number]
    actions = []
    if blank.state == State.STACKING:
        actions.append(
            Action("Lay the stack", reverse("builds:stack", args=at), disabled_reason)
        )
        actions.append(
            Action(
                "Begin the glue-up", reverse("builds:begin", args=at), disabled_reason
            )
        )
    if blank.state in {State.STACKING, State.GLUING}:
        actions.append(
            Action("Glue-up against the clock", reverse("gluing:glue_up", args=at), "")
        )
    if blank.state in {State.GLUING, State.GLUED}:
        page = f"{reverse('pressing:load_press')}?blank={blank.number}"
        again = "Press it again" if blank.state == State.GLUED else "Close the press"
        actions.append(Action(again, page, disabled_reason))
    if blank.state in {State.GLUED, State.SHAPED}:
        actions.append(
            Action(
                "Start a propeller", reverse("builds:start", args=at), disabled_reason
            )
        )
    return [
        *actions,
        Action("Log a reading", log_page(blank), disabled_reason),
        Action(
            "Note a beginning, an end or a remark", note_page(blank), disabled_reason
        ),
        Action("Note material used on it", use_page(blank), disabled_reason),
        Action("Travel card", reverse("tags:card", args=["blank", blank.number]), ""),
        *usual_actions(blank, disabled_reason),
    ]
