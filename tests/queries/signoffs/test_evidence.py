"""The records that a stage rests on, as facts that a signature covers."""

import pytest

from records.models import BoardCheck, CouponTest, LotCheck, PressSample
from records.queries.provenance.loading import provenance_of
from records.queries.signoffs.evidence import evidence_of
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def blank(db):
    return factories.glued_blank(laminations=3)


def facts(blank, kind, subject=None):
    stage = factories.StageFactory(evidence=kind)
    return evidence_of(provenance_of(blank)).facts(stage, subject or blank)


def kept(model, **fields):
    person = factories.PersonFactory()
    return model.objects.create(
        **fields,
        happened_at=factories.NOON,
        written_by=person,
        written_at=factories.NOON,
    )


def test_a_stage_may_rest_on_its_readings_only(blank):
    assert facts(blank, "") is None


def test_a_stack_is_its_laminations_in_order(blank):
    result = facts(blank, "stack")
    assert [row[0] for row in result] == [1, 2, 3]


def test_turning_a_lamination_changes_what_was_signed(blank):
    before = facts(blank, "stack")
    lamination = blank.laminations.first()
    lamination.turned = True
    lamination.save(update_fields=["turned"])
    assert facts(blank, "stack") != before


def test_joints_are_their_spreads_with_mix_and_verdict(blank):
    spread = blank.spreads.order_by("joint").first()
    result = facts(blank, "joints")
    assert result[0] == [spread.pk, 1, spread.mix.number, "both", "inside"]
    assert len(result) == 2


def test_a_press_load_counts_its_samples(blank):
    before = facts(blank, "press")
    load = blank.loaded.get().load
    PressSample.objects.create(
        load=load,
        at=load.on_at,
        entered="18.3",
        unit="MPa",
        glue_line_pa=1.2e6,
        source="typed",
        written_by=factories.PersonFactory(),
        written_at=factories.NOON,
    )
    [row] = facts(blank, "press")
    assert row[:3] == [load.number, True, "1"]
    assert [row] != before


def test_coupons_are_their_tests(blank):
    coupon = factories.CouponFactory(mix=blank.spreads.first().mix)
    assert facts(blank, "coupon") == []
    test = kept(
        CouponTest,
        coupon=coupon,
        method="chisel",
        wood_failure_pct=90,
        least_wood_failure_pct=75,
        verdict="passed",
    )
    assert facts(blank, "coupon") == [[coupon.number, test.pk, "passed"]]


def test_checks_are_those_of_the_lot_and_the_board(blank):
    board = blank.laminations.first().board
    lot_check = kept(LotCheck, lot=board.lot, accepted=True, found="As ordered")
    check = kept(BoardCheck, board=board, rings="quarter", accepted=True)
    assert facts(blank, "lot_check", board.lot) == [[lot_check.pk, True]]
    assert facts(blank, "board_check", board) == [[check.pk, True]]


def test_who_wrote_the_evidence_had_a_hand_in_it(blank):
    stage = factories.StageFactory(evidence="joints")
    rows = evidence_of(provenance_of(blank)).rows(stage, blank)
    assert set(blank.spreads.all()) <= set(rows)
    assert evidence_of(provenance_of(blank)).rows(factories.StageFactory(), blank) == []
