"""The records a stage rests on besides its readings: there, and good."""

from collections import defaultdict
from collections.abc import Callable, Iterable

from records.models import (
    Board,
    CouponTest,
    DeviationSubject,
    JointSpread,
    Lot,
    Stage,
)
from records.queries.builds.progress import StageState
from records.queries.deviations.concessions import accepted_joints, accepted_things
from records.queries.subjects import called
from records.rules.finding import Finding
from records.rules.gluing.flags import (
    decided_by,
    loads_are_decided,
    mixes_are_decided,
    waiting_is_decided,
)

Kind = Stage.Evidence
BOTH = {JointSpread.Side.LOWER, JointSpread.Side.UPPER}


def evidence_is_there(state: StageState) -> list[Finding]:
    """Say what is missing of the records that a stage rests on."""
    ask: dict[str, Callable[[StageState], list[Finding]]] = {
        Kind.LOT_CHECK: lot_is_accepted,
        Kind.BOARD_CHECK: board_is_accepted,
        Kind.STACK: stack_is_laid,
        Kind.JOINTS: joints_are_closed,
        Kind.PRESS: press_was_opened,
        Kind.COUPON: coupons_have_passed,
    }
    rule = ask.get(state.stage.evidence)
    return rule(state) if rule else []


def lot_is_accepted(state: StageState) -> list[Finding]:
    """Say whether the lot's receiving check accepted it."""
    lot = state.subject
    if isinstance(lot, Lot) and lot.state in {Lot.State.ACCEPTED, Lot.State.USED_UP}:
        return []
    return [Finding(f"{_capital(state)} is not accepted: check it on its page.")]


def board_is_accepted(state: StageState) -> list[Finding]:
    """Say whether the board's inspection accepted it."""
    board = state.subject
    good = {Board.State.USABLE, Board.State.SAWN}
    if isinstance(board, Board) and board.state in good:
        return []
    return [Finding(f"{_capital(state)} is not accepted: inspect it on its page.")]


def stack_is_laid(state: StageState) -> list[Finding]:
    """Say which places of the stack are empty."""
    design = state.provenance.design
    wanted = set(range(1, design.laminations + 1)) if design else set()
    laid = {lamination.position for lamination in state.provenance.laminations}
    empty = sorted(wanted - laid)
    if not empty:
        return []
    places = ", ".join(map(str, empty))
    return [Finding(f"No lamination is laid in place {places}.")]


def joints_are_closed(state: StageState) -> list[Finding]:
    """Say which joints are open, and what is flagged and not disposed of."""
    design = state.provenance.design
    by_joint: defaultdict[int, list[JointSpread]] = defaultdict(list)
    for spread in state.provenance.spreads:
        by_joint[spread.joint].append(spread)
    joints = range(1, design.laminations) if design else range(0)
    still_open = [str(joint) for joint in joints if not _is_closed(by_joint[joint])]
    findings = []
    if still_open:
        findings.append(Finding(f"Joint {', '.join(still_open)} is not closed yet."))
    accepted = {joint for _, joint in accepted_joints(state.evidence.accepted)}
    for joint, spreads in by_joint.items():
        flagged = [s for s in spreads if _is_flagged(s)]
        if flagged and joint not in accepted:
            why = flagged[0].flags.splitlines()
            reason = f" {why[0]}" if why else ""
            findings.append(
                Finding(
                    f"Joint {joint} is flagged and not disposed of.{reason} "
                    "Open a deviation that names the joint."
                )
            )
    decided = decided_by(state.evidence.accepted)
    flagged_mixes = mixes_are_decided(state.provenance.joint_mixes, decided)
    return findings + _to_decide(flagged_mixes, "the mix")


def press_was_opened(state: StageState) -> list[Finding]:
    """Say whether the blank was pressed and taken out, and what was flagged then."""
    provenance = state.provenance
    if not provenance.loads:
        return [Finding(f"{_capital(state)} has not been in the press.")]
    still_shut = [
        Finding(f"Press load {load} is not opened yet.")
        for load in provenance.loads
        if load.off_at is None
    ]
    decided = decided_by(state.evidence.accepted)
    flagged = waiting_is_decided(provenance.loaded, decided)
    flagged += loads_are_decided(provenance.loads, decided)
    return still_shut + _to_decide(flagged, "the press load")


def coupons_have_passed(state: StageState) -> list[Finding]:
    """Say which mix has no coupon that passed, or one that failed undisposed of.

    A failed test stays: a twin that passes later does not undo it, a decision does.
    """
    tests: defaultdict[int, list[CouponTest]] = defaultdict(list)
    made = {coupon.mix_id for coupon in state.provenance.coupons}
    for coupon in state.provenance.coupons:
        tests[coupon.mix_id] += list(coupon.tests.all())
    findings = (
        []
        if state.provenance.joint_mixes
        else [Finding("No mix is in the joints yet.")]
    )
    for mix in state.provenance.joint_mixes:
        verdicts = {test.verdict for test in tests[mix.pk]}
        if CouponTest.Verdict.PASSED not in verdicts:
            why = "has no coupon" if mix.pk not in made else "has no coupon that passed"
            findings.append(Finding(f"Mix {mix} {why} yet."))
        failed = CouponTest.Verdict.FAILED in verdicts
        if failed and not _coupon_is_accepted(state, mix.pk, state.evidence.accepted):
            sentence = f"A coupon of mix {mix} failed and is not disposed of."
            findings.append(Finding(sentence))
    return findings


def _to_decide(flagged: Iterable[Finding], what: str) -> list[Finding]:
    return [
        Finding(f"{finding.sentence} Open a deviation that names {what}.")
        for finding in flagged
    ]


def _is_flagged(spread: JointSpread) -> bool:
    if spread.verdict == JointSpread.Verdict.OUTSIDE:
        return True
    return spread.verdict == JointSpread.Verdict.UNKNOWN and bool(spread.flags)


def _is_closed(spreads: list[JointSpread]) -> bool:
    sides = {spread.side for spread in spreads}
    return JointSpread.Side.BOTH in sides or sides >= BOTH


def _coupon_is_accepted(
    state: StageState, mix: int, accepted: list[DeviationSubject]
) -> bool:
    coupons = {c.pk for c in state.provenance.coupons if c.mix_id == mix}
    return mix in accepted_things(accepted, "mix") or bool(
        coupons & accepted_things(accepted, "coupon")
    )


def _capital(state: StageState) -> str:
    name = called(state.subject)
    return f"{name[0].upper()}{name[1:]}"
