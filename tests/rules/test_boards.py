"""Boards, defects and laminations: what can't be, and what a propeller can't have.

Defects that are never permitted: AC 43.13-1B, notes to table 1-1 (from memory). Sizes
that count as slips of the pen: common practice, no source.
"""

import datetime as dt
from decimal import Decimal

import pytest

from records.models import Blank, Board, BoardDefect, Lamination, Lot, Material
from records.rules import boards as rules
from tests.factories import DAY

D = Decimal
Kind = BoardDefect.Kind


def lot(kind="timber", state="accepted"):
    material = Material(kind=kind, name="Ash")
    return Lot(number="L1", material=material, received_on=DAY, state=state)


def board(**kwargs):
    sizes = {"length_mm": D(2000), "width_mm": D(200), "thickness_mm": D(20)}
    return Board(number="B1", lot=lot(), **{**sizes, **kwargs})


def fields(findings):
    return [f.field for f in findings]


@pytest.mark.parametrize("state", ["waiting", "accepted"])
def test_boards_come_of_timber_that_was_not_refused(state):
    assert rules.lot_gives_boards(lot(state=state)) == []


@pytest.mark.parametrize("state", ["refused", "returned", "used_up"])
def test_no_board_of_a_rejected_lot(state):
    (finding,) = rules.lot_gives_boards(lot(state=state))
    assert "no board is taken" in finding.sentence
    assert finding.field == "lot"


def test_no_board_of_glue():
    assert "timber" in rules.lot_gives_boards(lot(kind="adhesive"))[0].sentence


@pytest.mark.parametrize(("field", "bounds"), rules.PLAUSIBLE_MM.items())
def test_sizes_are_plausible_up_to_and_including_their_bounds(field, bounds):
    low, high = bounds
    for size in (D(low), D(high), None):
        assert rules.board_size_is_plausible(**{field: size}) == []
    for size in (D(low) - D("0.1"), D(high) + D("0.1"), D(0), D(-5)):
        (finding,) = rules.board_size_is_plausible(**{field: size})
        assert finding.field == field


def test_a_count_of_boards_is_one_to_a_hundred():
    assert rules.count_is_plausible(1) == rules.count_is_plausible(100) == []
    assert fields(rules.count_is_plausible(0)) == ["count"]
    assert fields(rules.count_is_plausible(101)) == ["count"]


@pytest.mark.parametrize("kind", sorted(rules.NEVER_PERMITTED))
def test_defect_never_permitted_is_cut_round_or_the_board_is_refused(kind):
    (finding,) = rules.defects_allow_acceptance([(kind, "tip", False)], "small")
    assert finding.field == "accepted"
    assert rules.defects_allow_acceptance([(kind, "tip", True)], "") == []


def test_defect_that_stays_needs_a_word():
    defects = [(Kind.PIN_KNOTS, "middle", False)]
    assert fields(rules.defects_allow_acceptance(defects, " ")) == ["note"]
    assert rules.defects_allow_acceptance(defects, "grain runs straight by") == []


def test_clear_board_needs_no_word():
    assert rules.defects_allow_acceptance([], "") == []


def test_sawn_board_is_not_inspected_nor_one_before_it_came():
    early = DAY - dt.timedelta(days=1)
    findings = rules.board_may_be_inspected(board(state="sawn"), early)
    assert fields(findings) == ["", "happened_at"]
    assert rules.board_may_be_inspected(board(), DAY) == []


def test_lamination_weighs_less_than_its_board_can():
    # 2000 x 200 x 20 mm at 1.3 g/cm3 is 10 400 g.
    assert rules.lamination_is_plausible(board(), D(10_400), None) == []
    (finding,) = rules.lamination_is_plausible(board(), D("10_400.1"), None)
    assert "10400\xa0g" in finding.sentence
    assert fields(rules.lamination_is_plausible(board(), D(0), None)) == ["mass_g"]
    assert fields(rules.lamination_is_plausible(board(), D(-3), None)) == ["mass_g"]


def test_lamination_of_a_board_not_measured_is_only_weighed():
    unmeasured = board(length_mm=None, width_mm=None)
    assert rules.lamination_is_plausible(unmeasured, D(99_999), D(9999)) == []


def test_balance_point_lies_on_the_board():
    assert rules.lamination_is_plausible(board(), None, D(-1000)) == []
    findings = rules.lamination_is_plausible(board(), None, D(1001))
    assert fields(findings) == ["balance_point_mm"]


def test_number_is_voided_once_and_with_a_reason():
    lamination = Lamination(number="B1-1")
    assert rules.lamination_may_be_voided(lamination, "split") == []
    assert fields(rules.lamination_may_be_voided(lamination, " ")) == ["reason"]
    void = Lamination(number="B1-1", state="void", void_reason="split")
    assert "is void: split" in rules.lamination_may_be_voided(void, "x")[0].sentence


def test_lamination_in_a_glued_blank_is_not_voided():
    for state in Blank.State.values:
        lamination = Lamination(number="B1-1", blank=Blank(number="K1", state=state))
        findings = rules.lamination_may_be_voided(lamination, "split")
        assert bool(findings) is (state != Blank.State.STACKING)


def test_only_a_sawn_board_is_reopened():
    assert rules.board_may_be_reopened(board(state="sawn")) == []
    assert rules.board_may_be_reopened(board(state="usable"))
