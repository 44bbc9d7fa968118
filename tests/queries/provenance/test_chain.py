"""How each material got into a serial, and what it is made of in one line."""

import pytest
from django.db.models import Q

from records.queries.provenance.chain import chain_of, in_short, made_of_all
from records.queries.provenance.loading import provenance_of
from records.queries.reach.destinations import destinations
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory(blank=factories.glued_blank(3))


def test_in_short_each_number_once(propeller):
    mix = propeller.blank.spreads.first().mix
    timber = propeller.blank.laminations.first().board.lot.number
    glue = sorted([mix.resin_lot.number, mix.hardener_lot.number])
    load = propeller.blank.loaded.get().load.number
    assert in_short(provenance_of(propeller)) == (
        f"timber {timber}; glue {', '.join(glue)}; "
        f"pressed press load {load}, 2 Mar 2026"
    )


def test_chain_says_how_each_material_got_in(propeller):
    made = provenance_of(propeller)
    lamination = propeller.blank.laminations.order_by("position").first()
    mix = propeller.blank.spreads.first().mix
    board = lamination.board
    words = f"lamination {lamination.number} of board {board.number}"
    assert chain_of(made, "board", board.number) == [words]
    assert chain_of(made, "lamination", lamination.number) == [words]
    assert len(chain_of(made, "lot", board.lot.number)) == 3
    joints = [f"joints 1, 2 by mix {mix.number}"]
    assert chain_of(made, "lot", mix.resin_lot.number) == joints
    assert chain_of(made, "mix", mix.number) == joints
    load = propeller.blank.loaded.get().load.number
    assert chain_of(made, "load", load) == [f"press load {load}, 2 Mar 2026"]
    assert chain_of(made, "lot", "L-NONE") == []


def test_later_material_of_blank_and_propeller(propeller):
    sister = factories.PropellerFactory(blank=propeller.blank)
    plug = factories.MaterialUseFactory(
        propeller=None, blank=propeller.blank, place="plug"
    )
    mix = factories.MixFactory()
    factories.MaterialUseFactory(lot=None, mix=mix, propeller=propeller, place="tip")
    made = provenance_of(propeller)
    assert in_short(made).endswith(f"later {plug.lot}, plug, {mix}, tip")
    assert chain_of(made, "lot", mix.resin_lot.number) == [f"tip by mix {mix.number}"]
    assert chain_of(made, "lot", plug.lot.number) == [f"plug by lot {plug.lot}"]
    assert in_short(provenance_of(sister)).endswith(f"later {plug.lot}, plug")


def test_many_serials_of_a_list_at_once(propeller):
    others = [factories.PropellerFactory() for _ in range(3)]
    made = made_of_all(destinations(Q()))
    assert made.keys() == {propeller.pk, *(other.pk for other in others)}
    assert made[propeller.pk].propeller == propeller
