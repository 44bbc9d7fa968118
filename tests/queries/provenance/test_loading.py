"""What a thing is made of, from its lots up."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.models import Lamination
from records.queries.provenance.loading import provenance_of, provenances
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def blank(db):
    return factories.glued_blank()


def test_a_propeller_is_made_of_its_blank_and_all_in_it(blank):
    propeller = factories.PropellerFactory(blank=blank)
    coupon = factories.CouponFactory(mix=blank.spreads.first().mix)
    provenance = provenance_of(propeller)
    assert provenance.propeller == propeller
    assert provenance.blank == blank
    assert [x.position for x in provenance.laminations] == [1, 2, 3, 4, 5, 6]
    assert len(provenance.boards) == 6
    assert len(provenance.timber_lots) == 1
    assert len(provenance.joint_mixes) == 1
    assert len(provenance.loads) == 1
    assert provenance.coupons == [coupon]
    assert provenance.routes == [blank.route]
    assert len(provenance.stations) == 4


def test_a_propeller_of_another_revision_has_that_ones_stations(blank):
    other = factories.RevisionFactory(stations=[(300, "20", 100, 20, 150)])
    provenance = provenance_of(factories.PropellerFactory(blank=blank, revision=other))
    assert provenance.design == other
    assert [str(s) for s in provenance.stations] == ["300 mm"]


def test_what_was_voided_or_corrected_is_no_part_of_it(blank):
    lamination = blank.laminations.first()
    lamination.state, lamination.void_reason = Lamination.State.VOID, "Crack"
    lamination.save(update_fields=["state", "void_reason"])
    old = blank.spreads.first()
    mix = factories.MixFactory()
    new = factories.JointSpreadFactory(
        blank=blank, joint=old.joint, mix=mix, corrects=old, reason="Wrong mix"
    )
    provenance = provenance_of(blank)
    assert lamination not in provenance.laminations
    assert old not in provenance.spreads
    assert new in provenance.spreads
    assert mix in provenance.mixes


def test_a_laid_lamination_is_part_of_its_blank_a_loose_one_of_its_board(blank):
    laid = blank.laminations.first()
    assert provenance_of(laid).blank == blank
    loose = factories.LaminationFactory()
    provenance = provenance_of(loose)
    assert provenance.blank is None
    assert provenance.boards == [loose.board]
    assert provenance.laminations == [loose]


def test_lots_and_boards_are_read_by_the_first_route_in_use_or_the_one_named(blank):
    board = factories.BoardFactory()
    assert provenance_of(board).routes == [blank.route]
    assert provenance_of(board).lots == [board.lot]
    other = factories.RouteRevisionFactory()
    assert provenance_of(board.lot, other).routes == [other]


def test_glue_and_loads_are_read_by_the_routes_of_their_blanks(blank):
    mix, load = blank.spreads.first().mix, blank.loaded.get().load
    other = factories.glued_blank(mix=mix)
    assert provenance_of(mix).routes == [blank.route, other.route]
    assert provenance_of(load).routes == [blank.route]
    coupon = factories.CouponFactory(mix=mix)
    assert provenance_of(coupon).coupons == [coupon]
    unused = factories.MixFactory()
    assert provenance_of(unused).routes == [blank.route, other.route]  # those in use


def test_the_keys_name_everything_glue_lots_too(blank):
    mix = blank.spreads.first().mix
    keys = provenance_of(blank).keys()
    assert ("blank", blank.pk) in keys
    assert ("lot", mix.resin_lot_id) in keys
    assert ("lot", mix.hardener_lot_id) in keys


def test_uses_on_the_blank_are_its_propellers_too_but_not_the_other_way(blank):
    one, sister = (factories.PropellerFactory(blank=blank) for _ in range(2))
    on_blank = factories.MaterialUseFactory(propeller=None, blank=blank)
    on_one = factories.MaterialUseFactory(propeller=one)
    assert provenance_of(one).uses == [on_blank, on_one]
    assert provenance_of(sister).uses == provenance_of(blank).uses == [on_blank]


def test_void_numbers_of_the_boards_used_explain_the_gap(blank):
    board = blank.laminations.first().board
    void = factories.LaminationFactory(board=board, state="void", void_reason="check")
    factories.LaminationFactory(state="void", void_reason="another board")
    assert provenance_of(blank).voided == [void]


def test_many_are_each_what_they_are_alone(blank):
    propellers = [factories.PropellerFactory(blank=blank) for _ in range(2)]
    other = factories.PropellerFactory(blank=factories.glued_blank(4))
    factories.MaterialUseFactory(propeller=other)
    many = provenances([*propellers, other, blank])
    assert len(many) == 4
    for thing in (*propellers, other):
        assert many["propeller", thing.pk].parts() == provenance_of(thing).parts()
    assert many["blank", blank.pk].parts() == provenance_of(blank).parts()


def test_queries_do_not_grow_with_the_stack_nor_with_how_many():
    def count(*laminations):
        blanks = [factories.glued_blank(n) for n in laminations]
        things = [factories.PropellerFactory(blank=blank) for blank in blanks]
        with CaptureQueriesContext(connection) as context:
            names = [
                [str(lot.supplier) + str(lot.material) for lot in made.lots]
                for made in provenances(things).values()
            ]
        assert all(names)
        return len(context)

    assert count(3) == count(12) == count(*[3] * 20)
