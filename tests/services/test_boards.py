"""Boards are numbered, inspected and sawn; a void number keeps its gap.

A board found cracked after numbering: trade-notes, situation 4.
"""

import datetime as dt
from dataclasses import replace
from decimal import Decimal

import pytest

from records.models import (
    Attachment,
    Blank,
    Board,
    BoardCheck,
    BoardDefect,
    Lamination,
    LedgerEntry,
    Lot,
)
from records.services import boards
from records.services.refusal import Refusal
from tests import factories
from tests.rules.test_files import picture
from tests.services.test_files import Sent

pytestmark = pytest.mark.django_db
D = Decimal
Kind = BoardDefect.Kind


def refused(do, **kwargs):
    """Do it, and see that it is refused and that nothing at all was written."""
    before = counts()
    with pytest.raises(Refusal) as refusal:
        do(**kwargs)
    assert counts() == before
    return {f.field: f.sentence for f in refusal.value.findings}


def counts():
    tables = (Board, BoardCheck, BoardDefect, Lamination, LedgerEntry, Attachment)
    return [table.objects.count() for table in tables]


@pytest.fixture
def board(shop):
    """A board to saw."""
    board = factories.BoardFactory(number="B0007")
    board.refresh_from_db()
    return board


def inspect(act, board, **kwargs):
    facts = {
        "rings": "quarter",
        "defects": [],
        "accepted": True,
        "happened_at": act.at,
    }
    return boards.inspect_board(act=act, board=board, **{**facts, **kwargs})


def test_boards_are_numbered_in_order_and_wait(act):
    lot = factories.LotFactory()
    added = boards.add_boards(act=act, lot=lot, count=3, length_mm=D(2100))
    assert [b.number for b in added] == ["B0001", "B0002", "B0003"]
    one = boards.add_board(act=act, lot=lot, grade="prime")
    assert (one.number, one.state) == ("B0004", Board.State.WAITING)
    assert LedgerEntry.objects.count() == 2


def test_board_from_a_rejected_lot_is_refused(act):
    lot = factories.LotFactory(state=Lot.State.REFUSED)
    result = refused(boards.add_board, act=act, lot=lot)
    assert "no board is taken" in result["lot"]


def test_slips_in_boards_are_all_named(act):
    result = refused(
        boards.add_boards,
        act=act,
        lot=factories.LotFactory(),
        count=0,
        length_mm=D(21),
        thickness_mm=D(2400),
    )
    assert set(result) == {"count", "length_mm", "thickness_mm"}


def test_inspection_keeps_rings_defects_and_photo(act, board):
    check = inspect(
        act,
        board,
        defects=[(Kind.HARD_KNOT, "40 mm from the tip", True), (Kind.WARP, "", True)],
        photo=Sent(picture()),
    )
    board.refresh_from_db()
    assert board.state == Board.State.USABLE
    assert check.get_rings_display() == "quarter-sawn"
    assert [str(d) for d in check.defects.all()] == ["hard knot", "warp"]
    assert Attachment.objects.get().board == board
    assert LedgerEntry.objects.count() == 1


def test_refused_board_can_have_any_defect(act, board):
    inspect(act, board, accepted=False, defects=[(Kind.DECAY, "all over", False)])
    board.refresh_from_db()
    assert board.state == Board.State.REFUSED


def test_board_with_decay_is_not_accepted(act, board):
    result = refused(
        inspect, act=act, board=board, defects=[(Kind.DECAY, "heart", False)]
    )
    assert "Decay" in result["accepted"]


def test_inspection_asks_for_authority_and_a_time_that_can_be(act, board):
    maker = replace(act, by=factories.PersonFactory())
    assert "accept lots and boards" in refused(inspect, act=maker, board=board)[""]
    later = act.at + dt.timedelta(days=1)
    result = refused(inspect, act=act, board=board, happened_at=later)
    assert "still to come" in result["happened_at"]


def test_unknown_defect_rolls_the_whole_inspection_back(act, board):
    result = refused(
        inspect, act=act, board=board, defects=[("gremlins", "", True)], note="x"
    )
    assert "kind" in result
    board.refresh_from_db()
    assert board.state == Board.State.USABLE


def test_laminations_are_numbered_by_their_board(act, board):
    first = boards.saw_lamination(act=act, board=board, end_mark="A", mass_g=D(3150))
    second = boards.saw_lamination(act=act, board=board)
    assert (first.number, second.number) == ("B0007-1", "B0007-2")


def test_void_number_keeps_its_gap_and_its_reason(act, board):
    first = boards.saw_lamination(act=act, board=board)
    boards.void_lamination(act=act, lamination=first, reason=" split at the end ")
    second = boards.saw_lamination(act=act, board=board)
    first.refresh_from_db()
    assert (first.state, first.void_reason) == ("void", "split at the end")
    assert second.number == "B0007-2"


def test_no_lamination_of_a_board_that_may_not_be_used(act, board):
    for state in (Board.State.WAITING, Board.State.REFUSED, Board.State.SAWN):
        other = factories.BoardFactory(state=state)
        assert "" in refused(boards.saw_lamination, act=act, board=other)
    lot = factories.LotFactory(state=Lot.State.RETURNED)
    of_it = factories.BoardFactory(lot=lot)
    result = refused(boards.saw_lamination, act=act, board=of_it)
    assert "returned" in result[""]


def test_no_lamination_of_a_held_lot(act, board):
    factories.HoldFactory(lot=board.lot, reason="wrong species")
    result = refused(boards.saw_lamination, act=act, board=board)
    assert "on hold" in result[""]


def test_slipped_decimal_of_a_mass_is_refused(act, board):
    result = refused(boards.saw_lamination, act=act, board=board, mass_g=D(315_000))
    assert "more than the whole board" in result["mass_g"]


def test_laid_lamination_is_voided_and_its_place_is_free(act, board):
    blank = factories.BlankFactory()
    laid = factories.LaminationFactory(
        board=board, number="B0007-1", blank=blank, position=1
    )
    boards.void_lamination(act=act, lamination=laid, reason="cracked")
    factories.LaminationFactory(board=board, number="B0007-2", blank=blank, position=1)
    laid.refresh_from_db()
    assert (laid.blank, laid.position) == (blank, 1)


def test_glued_lamination_is_not_voided(act, board):
    blank = factories.BlankFactory(state=Blank.State.GLUED)
    laid = factories.LaminationFactory(board=board, blank=blank, position=1)
    result = refused(boards.void_lamination, act=act, lamination=laid, reason="cracked")
    assert "Open a deviation" in result[""]


def test_board_is_sawn_up_and_opened_again(act, board):
    boards.finish_board(act=act, board=board)
    assert Board.objects.get(pk=board.pk).state == Board.State.SAWN
    boards.reopen_board(act=act, board=board)
    assert Board.objects.get(pk=board.pk).state == Board.State.USABLE
    assert refused(boards.reopen_board, act=act, board=board)
