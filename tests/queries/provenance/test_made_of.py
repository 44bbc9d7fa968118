"""What a thing is made of names everything once, and closes over all of it."""

import pytest

from records.queries.provenance.loading import provenance_of
from records.queries.provenance.made_of import each_once
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory(blank=factories.glued_blank(3))


def test_each_thing_once_in_order():
    first, second = factories.LotFactory(), factories.LotFactory()
    assert each_once([second, first, second]) == [second, first]


def test_a_mix_without_hardener_lot_has_one_glue_lot():
    blank = factories.stacked_blank(2)
    mix = factories.MixFactory(hardener_lot=None)
    factories.JointSpreadFactory(blank=blank, mix=mix)
    assert provenance_of(blank).glue_lots == [mix.resin_lot]


def test_what_was_put_on_later_is_part_of_it_like_all_else(propeller):
    lot = factories.MaterialUseFactory(propeller=propeller).lot
    mix = factories.MixFactory()
    factories.MaterialUseFactory(propeller=propeller, lot=None, mix=mix)
    coupon = factories.CouponFactory(mix=mix)
    made = provenance_of(propeller)
    assert made.used_lots == [lot]
    assert mix in made.mixes
    assert mix not in made.joint_mixes
    assert made.coupons == [coupon]
    assert {lot, mix.resin_lot, mix.hardener_lot} <= set(made.lots)
    assert {("lot", lot.pk), ("mix", mix.pk), ("coupon", coupon.pk)} <= made.keys()


def test_only_wood_is_signed_for_as_a_lot_and_glue_in_joints_as_a_mix(propeller):
    factories.MaterialUseFactory(propeller=propeller)
    mix = factories.MixFactory()
    factories.MaterialUseFactory(propeller=propeller, lot=None, mix=mix)
    made = provenance_of(propeller)
    assert made.things("lot") == made.timber_lots
    assert made.things("mix") == made.joint_mixes


def test_parts_name_everything_a_record_may_be_about(propeller):
    use = factories.MaterialUseFactory(propeller=propeller)
    parts = provenance_of(propeller).parts()
    assert parts["propeller"] == [propeller.pk]
    assert use.lot_id in parts["lot"]
    assert len(parts["lot"]) == 4  # timber, resin, hardener, edge
    assert (len(parts["board"]), len(parts["load"])) == (3, 1)
