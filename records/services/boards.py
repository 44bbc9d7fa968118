"""Number boards, inspect them, and saw them into laminations."""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal

from django.utils.timezone import localdate

from records.models import (
    Authority,
    Board,
    BoardCheck,
    BoardDefect,
    Lamination,
    Lot,
)
from records.rules import boards as rules
from records.rules.authority import may
from records.rules.fitness import board_usable
from records.rules.holds import held
from records.rules.moments import already_happened
from records.services.files import Sent, attach, clean
from records.services.ledger import Act, Entry
from records.services.numbers import next_numbers
from records.services.refusal import refuse_if_blocked


def add_board(
    *,
    act: Act,
    lot: Lot,
    length_mm: Decimal | None = None,
    width_mm: Decimal | None = None,
    thickness_mm: Decimal | None = None,
    grade: str = "",
) -> Board:
    """Give one board of a timber lot its number.

    A size that was not measured stays empty.
    """
    return add_boards(
        act=act,
        lot=lot,
        count=1,
        length_mm=length_mm,
        width_mm=width_mm,
        thickness_mm=thickness_mm,
        grade=grade,
    )[0]


def add_boards(
    *,
    act: Act,
    lot: Lot,
    count: int,
    length_mm: Decimal | None = None,
    width_mm: Decimal | None = None,
    thickness_mm: Decimal | None = None,
    grade: str = "",
) -> list[Board]:
    """Give several boards of one size their numbers at once."""
    sizes = {
        "length_mm": length_mm,
        "width_mm": width_mm,
        "thickness_mm": thickness_mm,
    }
    with Entry(act, "add boards") as entry:
        lot.refresh_from_db()
        refuse_if_blocked(
            [
                *rules.lot_gives_boards(lot),
                *rules.count_is_plausible(count),
                *rules.board_size_is_plausible(**sizes),
            ]
        )
        boards = [
            Board(number=number, lot=lot, grade=grade, **sizes)
            for number in next_numbers("board", act.at, count)
        ]
        entry.subject = lot.number
        return entry.add_many(boards)


def inspect_board(
    *,
    act: Act,
    board: Board,
    rings: str,
    defects: Sequence[rules.Defect],
    accepted: bool,
    happened_at: dt.datetime,
    note: str = "",
    photo: Sent | None = None,
) -> BoardCheck:
    """Write down what was seen on a board, and accept or refuse it.

    `defects` are (kind, place on the board, can be cut round). Needs the authority
    to accept.
    """
    cleaned = clean(photo) if photo else None
    with Entry(act, "inspect board") as entry:
        entry.subject = board.number
        board.refresh_from_db()
        refuse_if_blocked(
            [
                *may(act.by, Authority.Act.ACCEPT, localdate(act.at)),
                *already_happened(happened_at, act.at),
                *rules.board_may_be_inspected(board, localdate(happened_at)),
                *(rules.defects_allow_acceptance(defects, note) if accepted else ()),
            ]
        )
        check = BoardCheck(
            board=board,
            rings=rings,
            accepted=accepted,
            note=note,
            happened_at=happened_at,
        )
        entry.add(check)
        entry.add_many(_rows(check, defects))
        state = Board.State.USABLE if accepted else Board.State.REFUSED
        entry.change(board, state=state)
        if cleaned:
            attach(entry, board, cleaned, caption="Inspection", happened_at=happened_at)
        return check


def _rows(check: BoardCheck, defects: Sequence[rules.Defect]) -> list[BoardDefect]:
    return [
        BoardDefect(check_of=check, kind=kind, place=place, cut_round=cut_round)
        for kind, place, cut_round in defects
    ]


def saw_lamination(
    *,
    act: Act,
    board: Board,
    place: str = "",
    end_mark: str = "",
    mass_g: Decimal | None = None,
    balance_point_mm: Decimal | None = None,
) -> Lamination:
    """Give a piece sawn from a board its number: B0001-1, B0001-2.

    A void number stays taken.
    """
    with Entry(act, "saw lamination") as entry:
        board.refresh_from_db()
        refuse_if_blocked(
            [
                *board_usable(board),
                *held(board),
                *rules.lamination_is_plausible(board, mass_g, balance_point_mm),
            ]
        )
        number = f"{board.number}-{board.laminations.count() + 1}"
        entry.subject = number
        return entry.add(
            Lamination(
                number=number,
                board=board,
                place=place,
                end_mark=end_mark,
                mass_g=mass_g,
                balance_point_mm=balance_point_mm,
            )
        )


def void_lamination(*, act: Act, lamination: Lamination, reason: str) -> Lamination:
    """Make a lamination's number void; the gap stays in the book with its reason."""
    with Entry(act, "void lamination") as entry:
        entry.subject = lamination.number
        lamination.refresh_from_db()
        refuse_if_blocked(rules.lamination_may_be_voided(lamination, reason))
        return entry.change(
            lamination, state=Lamination.State.VOID, void_reason=reason.strip()
        )


def finish_board(*, act: Act, board: Board) -> Board:
    """Note that nothing is left of a board to saw."""
    with Entry(act, "finish board") as entry:
        entry.subject = board.number
        board.refresh_from_db()
        refuse_if_blocked(board_usable(board))
        return entry.change(board, state=Board.State.SAWN)


def reopen_board(*, act: Act, board: Board) -> Board:
    """Note that a piece of a board noted as sawn up is left after all."""
    with Entry(act, "reopen board") as entry:
        entry.subject = board.number
        board.refresh_from_db()
        refuse_if_blocked(rules.board_may_be_reopened(board))
        return entry.change(board, state=Board.State.USABLE)
