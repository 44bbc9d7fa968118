"""The one next thing to do with a blank or a propeller."""

from dataclasses import dataclass

from django.urls import reverse

from records.models import (
    Blank,
    Hold,
    JointSpread,
    Lamination,
    LoadedBlank,
    Propeller,
    Stage,
)
from records.queries.builds.progress import Progress, StageState
from records.rules.gates.stage import next_stage, next_to_log
from records.web.shared.hold_steps import hold_step
from records.web.shared.pages import log_page, page_of, sign_page
from records.web.shared.parts import Action

Evidence = Stage.Evidence
State = Blank.State


@dataclass(frozen=True, slots=True)
class Stack:
    """A blank with what lies in it, read once for the page."""

    blank: Blank
    laid: list[Lamination]
    voided: list[Lamination]
    loads: list[LoadedBlank]
    progress: Progress

    @property
    def joints(self) -> list[JointSpread]:
        """What stands in its joints."""
        return self.progress.provenance.spreads

    @property
    def whole(self) -> bool:
        """Tell whether something lies in every place."""
        return len(self.laid) == self.blank.revision.laminations


def next_step(stack: Stack, holds: list[Hold], disabled_reason: str) -> Action | None:
    """Name the one next thing to do with a blank; wet glue comes before a hold."""
    blank, at = stack.blank, [stack.blank.number]
    if blank.state == State.SCRAPPED:
        return None
    if blank.state == State.STACKING and not stack.whole:
        return Action(
            "Lay the stack", reverse("builds:stack", args=at), disabled_reason
        )
    if blank.state == State.GLUING:
        return Action(
            "Go on gluing", reverse("gluing:glue_up", args=at), disabled_reason
        )
    if blank.state == State.PRESSED and stack.loads:
        load = stack.loads[-1].load
        return Action(f"See press load {load}", page_of(load))
    return hold_step(holds, disabled_reason) or _next_stage(stack, disabled_reason)


def _next_stage(stack: Stack, disabled_reason: str) -> Action | None:
    blank, at = stack.blank, [stack.blank.number]
    stage = next_stage(stack.progress, blank)
    if stage is None:
        page = reverse("builds:start", args=at)
        ready = blank.state == State.GLUED
        return Action("Start a propeller", page, disabled_reason) if ready else None
    if stage.stage.evidence == Evidence.JOINTS and blank.state == State.STACKING:
        return Action(
            "Begin the glue-up", reverse("builds:begin", args=at), disabled_reason
        )
    coupon = _next_coupon(stack, disabled_reason)
    if stage.stage.evidence == Evidence.COUPON and coupon is not None:
        return coupon
    return stage_step(blank, stage, disabled_reason)


def stage_step(
    thing: Blank | Propeller, state: StageState, disabled_reason: str
) -> Action:
    """Lead to the next reading of a stage, or to its signature."""
    if slot := next_to_log(state):
        page = log_page(thing, slot)
        return Action(f"Log {slot.characteristic.name.lower()}", page, disabled_reason)
    return Action(
        f"Sign {state.stage.name}", sign_page(thing, state.stage), disabled_reason
    )


def _next_coupon(stack: Stack, disabled_reason: str) -> Action | None:
    provenance = stack.progress.provenance
    covered = {coupon.mix_id for coupon in provenance.coupons}
    for mix in provenance.joint_mixes:
        if mix.pk not in covered:
            page = f"{reverse('coupons:make')}?mix={mix.number}"
            return Action(f"Make a coupon of mix {mix}", page, disabled_reason)
    for coupon in provenance.coupons:
        if not coupon.tests.all():
            page = reverse("coupons:test", args=[coupon.number])
            return Action(f"Test coupon {coupon}", page, disabled_reason)
    return None
