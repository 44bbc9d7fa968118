"""What a board, its inspection and its laminations must be like."""

import datetime as dt
from collections.abc import Iterable
from decimal import Decimal
from typing import Final

from records.models import Blank, Board, BoardDefect, Lamination, Lot
from records.rules.finding import Finding
from records.spelling.moments import day
from records.spelling.quantities import in_unit

Defect = tuple[str, str, bool]
"""Kind, place on the board, and whether it can be cut round."""

# Sizes beyond these are slips of the pen (common practice, no source).
PLAUSIBLE_MM: Final = {
    "length_mm": (100, 15_000),
    "width_mm": (20, 2_000),
    "thickness_mm": (2, 400),
}
MOST_AT_ONCE: Final = 100
# The densest woods reach about 1.3 times the density of water (from memory).
DENSEST_G_MM3: Final = Decimal("0.0013")
# AC 43.13-1B, notes to table 1-1, permits none of these (from memory).
Kind = BoardDefect.Kind
NEVER_PERMITTED: Final = frozenset(
    {
        Kind.SPIKE_KNOT,
        Kind.CHECK,
        Kind.COMPRESSION_WOOD,
        Kind.COMPRESSION_FAILURE,
        Kind.TENSION_WOOD,
        Kind.DECAY,
    }
)


def lot_gives_boards(lot: Lot) -> list[Finding]:
    """Say why no board can be taken from a lot."""
    if lot.material.kind != lot.material.Kind.TIMBER:
        return [Finding(f"Lot {lot} is {lot.material}: boards come of timber.", "lot")]
    if lot.state in {Lot.State.WAITING, Lot.State.ACCEPTED}:
        return []
    return [
        Finding(
            f"Lot {lot} is {lot.get_state_display()}: no board is taken from it.",
            "lot",
        )
    ]


def board_size_is_plausible(**sizes_mm: Decimal | None) -> list[Finding]:
    """Say which size is a slip of the pen; one that is not known is no finding."""
    findings = []
    for field, size in sizes_mm.items():
        low, high = PLAUSIBLE_MM[field]
        if size is not None and not low <= size <= high:
            name = field.removesuffix("_mm")
            findings.append(
                Finding(
                    f"A {name} of {in_unit(size, 'mm')} is outside {low} to "
                    f"{in_unit(high, 'mm')}. "
                    "Check the figure and its unit.",
                    field,
                )
            )
    return findings


def count_is_plausible(count: int) -> list[Finding]:
    """Say why so many boards can't be added at once."""
    if 1 <= count <= MOST_AT_ONCE:
        return []
    return [Finding(f"Add between 1 and {MOST_AT_ONCE} boards at once.", "count")]


def board_may_be_inspected(board: Board, happened_on: dt.date) -> list[Finding]:
    """Say why a board can't be inspected."""
    findings = []
    if board.state == Board.State.SAWN:
        findings.append(
            Finding(f"Board {board} is sawn up; there is nothing to inspect.")
        )
    if happened_on < board.lot.received_on:
        findings.append(
            Finding(
                f"Board {board} came with lot {board.lot} on "
                f"{day(board.lot.received_on)}; it can't have been inspected "
                "before.",
                "happened_at",
            )
        )
    return findings


def defects_allow_acceptance(defects: Iterable[Defect], note: str) -> list[Finding]:
    """Say why a board with these defects can't be accepted."""
    staying = [kind for kind, _, cut_round in defects if not cut_round]
    never = sorted({Kind(kind).label for kind in staying if kind in NEVER_PERMITTED})
    findings = [
        Finding(
            f"{name[:1].upper()}{name[1:]} that can't be cut round is not accepted "
            "in a propeller board. Refuse the board, or mark that it can be cut round.",
            "accepted",
        )
        for name in never
    ]
    if staying and not never and not note.strip():
        findings.append(
            Finding(
                "A defect stays in the accepted board: say in the note why it does "
                "no harm.",
                "note",
            )
        )
    return findings


def lamination_is_plausible(
    board: Board, mass_g: Decimal | None, balance_point_mm: Decimal | None
) -> list[Finding]:
    """Say why a lamination of this board can't weigh or balance so."""
    findings = []
    if mass_g is not None and mass_g <= 0:
        findings.append(Finding("A lamination weighs more than 0 g.", "mass_g"))
    most = _most_g(board)
    if mass_g is not None and most is not None and mass_g > most:
        findings.append(
            Finding(
                f"{in_unit(mass_g, 'g')} is more than the whole board {board} can "
                "weigh "
                f"({in_unit(float(most), 'g')}). Check the figure and its unit.",
                "mass_g",
            )
        )
    half = board.length_mm / 2 if board.length_mm else None
    if half and balance_point_mm is not None and abs(balance_point_mm) > half:
        findings.append(
            Finding(
                f"{in_unit(balance_point_mm, 'mm')} from the middle is off the "
                f"board {board}, "
                f"which is {in_unit(board.length_mm, 'mm')} long.",
                "balance_point_mm",
            )
        )
    return findings


def _most_g(board: Board) -> Decimal | None:
    """Give the mass of the whole board in the densest wood, if it was measured."""
    length, width, thickness = board.length_mm, board.width_mm, board.thickness_mm
    if length is None or width is None or thickness is None:
        return None
    return length * width * thickness * DENSEST_G_MM3


def lamination_may_be_voided(lamination: Lamination, reason: str) -> list[Finding]:
    """Say why a lamination's number can't be made void."""
    findings = []
    if not reason.strip():
        findings.append(
            Finding("Say why: the gap in the numbers is explained.", "reason")
        )
    if lamination.state == Lamination.State.VOID:
        findings.append(Finding(f"{lamination} is void: {lamination.void_reason}."))
    blank = lamination.blank
    if blank is not None and blank.state != Blank.State.STACKING:
        findings.append(
            Finding(
                f"{lamination} is in blank {blank}, which is "
                f"{blank.get_state_display()}. Open a deviation about the blank."
            )
        )
    return findings


def board_may_be_reopened(board: Board) -> list[Finding]:
    """Say why a board can't be sawn again."""
    if board.state == Board.State.SAWN:
        return []
    return [
        Finding(f"Board {board} is {board.get_state_display()}; it is not sawn up.")
    ]
