"""What a thing is made of, from its lots up."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.models import Lamination
from records.queries.provenance.makeup import makeup_of
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def blank(db):
    return factories.glued_blank()


def test_a_propeller_is_made_of_its_blank_and_all_in_it(blank):
    propeller = factories.PropellerFactory(blank=blank)
    coupon = factories.CouponFactory(mix=blank.spreads.first().mix)
    makeup = makeup_of(propeller)
    assert makeup.propeller == propeller
    assert makeup.blank == blank
    assert [x.position for x in makeup.laminations] == [1, 2, 3, 4, 5, 6]
    assert len(makeup.boards) == 6
    assert len(makeup.lots) == 1
    assert len(makeup.mixes) == 1
    assert len(makeup.loads) == 1
    assert makeup.coupons == [coupon]
    assert makeup.routes == [blank.route]
    assert len(makeup.stations) == 4


def test_a_propeller_of_another_revision_has_that_ones_stations(blank):
    other = factories.RevisionFactory(stations=[(300, "20", 100, 20, 150)])
    makeup = makeup_of(factories.PropellerFactory(blank=blank, revision=other))
    assert makeup.design == other
    assert [str(s) for s in makeup.stations] == ["300 mm"]


def test_what_was_voided_or_corrected_is_no_part_of_it(blank):
    lamination = blank.laminations.first()
    lamination.state, lamination.void_reason = Lamination.State.VOID, "Crack"
    lamination.save(update_fields=["state", "void_reason"])
    old = blank.spreads.first()
    mix = factories.MixFactory()
    new = factories.JointSpreadFactory(
        blank=blank, joint=old.joint, mix=mix, corrects=old, reason="Wrong mix"
    )
    makeup = makeup_of(blank)
    assert lamination not in makeup.laminations
    assert old not in makeup.spreads
    assert new in makeup.spreads
    assert mix in makeup.mixes


def test_a_laid_lamination_is_part_of_its_blank_a_loose_one_of_its_board(blank):
    laid = blank.laminations.first()
    assert makeup_of(laid).blank == blank
    loose = factories.LaminationFactory()
    makeup = makeup_of(loose)
    assert makeup.blank is None
    assert makeup.boards == [loose.board]
    assert makeup.laminations == [loose]


def test_lots_and_boards_are_read_by_the_first_route_in_use_or_the_one_named(blank):
    board = factories.BoardFactory()
    assert makeup_of(board).routes == [blank.route]
    assert makeup_of(board).lots == [board.lot]
    other = factories.RouteRevisionFactory()
    assert makeup_of(board.lot, other).routes == [other]


def test_glue_and_loads_are_read_by_the_routes_of_their_blanks(blank):
    mix, load = blank.spreads.first().mix, blank.loaded.get().load
    other = factories.glued_blank(mix=mix)
    assert makeup_of(mix).routes == [blank.route, other.route]
    assert makeup_of(load).routes == [blank.route]
    coupon = factories.CouponFactory(mix=mix)
    assert makeup_of(coupon).coupons == [coupon]
    unused = factories.MixFactory()
    assert makeup_of(unused).routes == [blank.route, other.route]  # those in use


def test_the_keys_name_everything_glue_lots_too(blank):
    mix = blank.spreads.first().mix
    keys = makeup_of(blank).keys()
    assert ("blank", blank.pk) in keys
    assert ("lot", mix.resin_lot_id) in keys
    assert ("lot", mix.hardener_lot_id) in keys


def test_queries_do_not_grow_with_the_stack():
    def count(laminations):
        blank = factories.glued_blank(laminations)
        with CaptureQueriesContext(connection) as context:
            makeup_of(blank)
        return len(context)

    assert count(3) == count(12)
