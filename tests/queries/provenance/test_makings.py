"""The evidence beside each serial of a list: what it was made of, by number."""

import pytest
from django.db.models import Q

from records.queries.provenance.makings import makings_of
from records.queries.reach.destinations import destinations
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory(blank=factories.glued_blank(3))


def making(propeller):
    return makings_of(destinations(Q(pk=propeller.pk)))[propeller.pk]


def test_lots_mixes_and_loads_each_once(propeller):
    result = making(propeller)
    mix = propeller.blank.spreads.first().mix
    timber = propeller.blank.laminations.first().board.lot
    assert result.timber == [timber.number]
    assert result.glue == sorted([mix.resin_lot.number, mix.hardener_lot.number])
    assert result.mixes == [mix.number]
    load = propeller.blank.loaded.get().load.number
    assert result.pressed == [f"press load {load}, 2 Mar 2026"]


def test_chain_says_how_each_material_got_in(propeller):
    result = making(propeller)
    lamination = propeller.blank.laminations.order_by("position").first()
    mix = propeller.blank.spreads.first().mix
    board = lamination.board
    words = f"lamination {lamination.number} of board {board.number}"
    assert result.chain("board", board.number) == [words]
    assert result.chain("lamination", lamination.number) == [words]
    assert len(result.chain("lot", board.lot.number)) == 3
    joints = [f"joints 1, 2 by mix {mix.number}"]
    assert result.chain("lot", mix.resin_lot.number) == joints
    assert result.chain("mix", mix.number) == joints
    load = propeller.blank.loaded.get().load.number
    assert result.chain("load", load) == result.pressed
    assert result.chain("lot", "L-NONE") == []


def test_later_material_of_blank_and_propeller(propeller):
    sister = factories.PropellerFactory(blank=propeller.blank)
    blank_use = factories.MaterialUseFactory(
        propeller=None, blank=propeller.blank, place="plug"
    )
    mix = factories.MixFactory()
    factories.MaterialUseFactory(lot=None, mix=mix, propeller=propeller, place="tip")
    result = making(propeller)
    assert result.later == [f"{blank_use.lot.number}, plug", f"{mix.number}, tip"]
    assert result.chain("lot", mix.resin_lot.number) == [f"tip by mix {mix.number}"]
    assert making(sister).later == [f"{blank_use.lot.number}, plug"]


def test_queries_do_not_grow(propeller, django_assert_num_queries):
    for _ in range(20):
        factories.PropellerFactory(blank=factories.glued_blank(3))
    places = destinations(Q())
    with django_assert_num_queries(4):
        assert len(makings_of(places)) == 21
