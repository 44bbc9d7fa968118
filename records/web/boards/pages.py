"""What the pages of a board and of a lamination show, and what comes next."""

from collections.abc import Mapping
from typing import Any

from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString

from records.models import Board, BoardCheck, BoardDefect, Lamination
from records.queries.boards import (
    Range,
    checks_of,
    laminations_of,
    newest_at_each_point,
    ranges,
    standing_readings,
)
from records.queries.builds.progress import Progress, StageState, progress_of
from records.queries.files import attached_to
from records.rules.finding import Finding
from records.rules.fitness import board_usable
from records.rules.gates.stage import next_stage, next_to_log
from records.rules.holds import held
from records.spelling.moments import when
from records.spelling.numbers import NOTHING
from records.spelling.quantities import in_unit, length, mass
from records.spelling.verdicts import Verdict
from records.web.shared.evidence import photo_lines, reading_lines, stage_lines
from records.web.shared.pages import log_page, page_of, usual_actions
from records.web.shared.parts import Action, Fact
from records.web.shared.steps import stage_step, stage_verdict

DisabledReason = Mapping[str, str]
NOT_SAWABLE = {Board.State.REFUSED: "refused", Board.State.SAWN: "sawn up"}


def board_page(board: Board, disabled_reason: DisabledReason) -> dict[str, Any]:
    """Gather the page of a board.

    `disabled_reason` says why not to "accept" or to "write".
    """
    holds, findings = held(board), board_usable(board)
    readings = standing_readings("board", board.pk)
    progress = progress_of(board)
    return {
        "board": board,
        "verdict": verdict_of(board, findings, holds, next_stage(progress, board)),
        "findings": [*holds, *findings],
        "step": _next(board, progress, disabled_reason, usable=not (holds or findings)),
        "facts": _facts(board),
        "stages": stage_lines(progress, board),
        "checks": [_check_line(check) for check in checks_of(board)],
        "ranges": [(s.name, spelled(s)) for s in ranges(readings)],
        "readings": reading_lines(newest_at_each_point(readings)),
        "earlier": len(readings) - len(newest_at_each_point(readings)),
        "laminations": [lamination_line(piece) for piece in laminations_of(board)],
        "photos": photo_lines(attached_to("board", board.pk)),
        "actions": _actions(
            board, disabled_reason, " ".join(f.sentence for f in holds + findings)
        ),
    }


def verdict_of(
    board: Board,
    findings: list[Finding],
    holds: list[Finding],
    stage: StageState | None,
) -> Verdict:
    """Give shape, word and detail for whether the board is all right.

    `stage` is the first stage of it that nobody has signed, if it has one.
    """
    if holds:
        return Verdict("hold", "on hold", "")
    if board.state in NOT_SAWABLE:
        return Verdict("void", NOT_SAWABLE[Board.State(board.state)], "")
    if board.state == Board.State.WAITING:
        return Verdict("waiting", "waits for inspection", "")
    if findings:
        return Verdict("outside", "not usable", "")
    return stage_verdict(stage) if stage is not None else Verdict("ok", "usable", "")


def lamination_page(
    lamination: Lamination, disabled_reason: DisabledReason
) -> dict[str, Any]:
    """Gather the page of a lamination."""
    holds = held(lamination)
    void = lamination.state == Lamination.State.VOID
    readings = standing_readings("lamination", lamination.pk)
    return {
        "lamination": lamination,
        "verdict": _lamination_verdict(lamination, holds),
        "findings": holds,
        "step": None if void else Action("Log a reading", log_page(lamination)),
        "facts": _lamination_facts(lamination),
        "readings": reading_lines(readings),
        "photos": photo_lines(attached_to("lamination", lamination.pk)),
        "actions": _lamination_actions(lamination, disabled_reason),
    }


def spelled(range_: Range) -> str:
    """Say how far the points lie apart."""
    apart = in_unit(range_.difference, range_.unit)
    ends = (
        f"{in_unit(range_.lowest, range_.unit)} to "
        f"{in_unit(range_.highest, range_.unit)}"
    )
    return f"{ends}: {apart} apart over {range_.points} points"


def lamination_line(piece: Lamination) -> dict[str, str]:
    """Spell a lamination as a line of its board."""
    void = piece.state == Lamination.State.VOID
    about = [mass(piece.mass_g)] if piece.mass_g else []
    about += [f"end mark {piece.end_mark}"] if piece.end_mark else []
    about += [piece.place] if piece.place else []
    about += [f"void: {piece.void_reason}"] if void else []
    laid = f"place {piece.position} in {piece.blank}" if piece.blank else "not laid"
    return {
        "number": piece.number,
        "url": page_of(piece),
        "about": ", ".join(about) or "not weighed",
        "verdict": "void" if void else "ok",
        "word": "void" if void else laid,
    }


def link(thing: Board | Lamination | Any) -> SafeString:
    """Link to a thing's page by its number."""
    return format_html('<a href="{}">{}</a>', page_of(thing), thing)


def _next(
    board: Board, progress: Progress, disabled_reason: DisabledReason, *, usable: bool
) -> Action | None:
    stage = next_stage(progress, board)
    reads_first = stage is not None and next_to_log(stage) is not None
    if board.state == Board.State.WAITING and not reads_first:
        page = reverse("boards:inspect", args=[board.number])
        return Action("Inspect", page, disabled_reason["accept"])
    if stage is not None and board.state != Board.State.REFUSED:
        return stage_step(stage, board, disabled_reason["write"])
    if not usable:
        return None
    page = reverse("boards:saw", args=[board.number])
    return Action("Saw a lamination", page, disabled_reason["write"])


def _facts(board: Board) -> list[Fact]:
    return [
        Fact("Lot", link(board.lot)),
        Fact("Species", board.lot.material.name),
        Fact("Length", length(board.length_mm)),
        Fact("Width", length(board.width_mm)),
        Fact("Thickness", length(board.thickness_mm)),
        Fact("Grade", board.grade or NOTHING),
        Fact("Written by", f"{board.written_by.name}, {when(board.written_at)}"),
    ]


def _check_line(check: BoardCheck) -> dict[str, Any]:
    return {
        "rings": check.get_rings_display(),
        "note": check.note,
        "about": f"{when(check.happened_at)}, {check.written_by.name}",
        "defects": [_defect(defect) for defect in check.defects.all()],
        "verdict": "ok" if check.accepted else "void",
        "word": "accepted" if check.accepted else "refused",
    }


def _defect(defect: BoardDefect) -> str:
    place = f", {defect.place}" if defect.place else ""
    fate = "can be cut round" if defect.cut_round else "stays in the wood"
    return f"{defect.get_kind_display()}{place}: {fate}"


def _actions(board: Board, disabled_reason: DisabledReason, unfit: str) -> list[Action]:
    args, write = [board.number], disabled_reason["write"]
    sawn = board.state == Board.State.SAWN
    end = ("It is not sawn up", "reopen") if sawn else ("It is sawn up", "finish")
    return [
        Action("Log a reading", log_page(board), write),
        Action(
            "Inspect", reverse("boards:inspect", args=args), disabled_reason["accept"]
        ),
        Action("Saw a lamination", reverse("boards:saw", args=args), write or unfit),
        Action(end[0], reverse(f"boards:{end[1]}", args=args), write),
        *usual_actions(board, write),
    ]


def _lamination_verdict(lamination: Lamination, holds: list[Finding]) -> Verdict:
    if lamination.state == Lamination.State.VOID:
        return Verdict("void", "void")
    if holds:
        return Verdict("hold", "on hold")
    laid = lamination.blank
    return Verdict("ok", f"in {laid}") if laid else Verdict("ok", "free to lay")


def _lamination_facts(lamination: Lamination) -> list[Fact]:
    blank = lamination.blank
    turned = ", turned end for end" if lamination.turned else ""
    point = lamination.balance_point_mm
    facts: list[Fact] = [
        Fact("Board", link(lamination.board)),
        Fact("Species", lamination.board.lot.material.name),
        Fact("Mass", mass(lamination.mass_g)),
        Fact("Mark on the root end", lamination.end_mark or NOTHING),
        Fact("Balance point from the middle", length(point)),
        Fact("Place in the board", lamination.place or NOTHING),
        Fact("Blank", link(blank) if blank else "not laid"),
        Fact(
            "Place in the blank", f"{lamination.position}{turned}" if blank else NOTHING
        ),
        Fact(
            "Written by", f"{lamination.written_by.name}, {when(lamination.written_at)}"
        ),
    ]
    if lamination.void_reason:
        facts.insert(0, Fact("Void because", lamination.void_reason))
    return facts


def _lamination_actions(
    lamination: Lamination, disabled_reason: DisabledReason
) -> list[Action]:
    write = disabled_reason["write"]
    void = reverse("boards:void", args=[lamination.number])
    already = "It is void." if lamination.state == Lamination.State.VOID else ""
    return [
        Action("Make the number void", void, write or already),
        *usual_actions(lamination, write),
    ]
