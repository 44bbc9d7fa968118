"""The plans that a deviation concerns."""

import pytest

from records.queries.deviations.plans import plans_for
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory(blank=factories.glued_blank(3))


def test_propeller_is_made_by_its_blanks_route_to_its_own_design(propeller):
    result = plans_for([propeller])
    assert result.routes == {propeller.blank.route_id}
    assert result.authorities == (propeller.revision.design_authority,)


@pytest.mark.parametrize("kind", ["blank", "mix", "board", "coupon"])
def test_material_reaches_plans_through_its_blanks(propeller, kind):
    mix = propeller.blank.spreads.first().mix
    thing = {
        "blank": propeller.blank,
        "mix": mix,
        "board": propeller.blank.laminations.first().board,
        "coupon": factories.CouponFactory(mix=mix),
    }[kind]
    result = plans_for([thing])
    assert result.routes == {propeller.blank.route_id}
    assert result.authorities == ("Test Airscrew Works, design office",)


def test_loose_material_may_be_made_by_any_route_in_use(propeller):
    result = plans_for([factories.BoardFactory()])
    assert propeller.blank.route_id in result.routes
    assert result.authorities == ()


def test_gauge_says_nothing_about_plans(propeller):
    assert plans_for([factories.GaugeFactory()]).authorities == ()


def test_stages_in_order_and_queries_do_not_grow(propeller, django_assert_num_queries):
    last = factories.StageFactory(revision=propeller.blank.route, order=9)
    first = factories.StageFactory(revision=propeller.blank.route, order=1)
    more = [factories.PropellerFactory(blank=factories.glued_blank(3)) for _ in "abcde"]
    mixes = [p.blank.spreads.first().mix for p in more]
    with django_assert_num_queries(3):
        plans_for([propeller, *more, *mixes])
    assert list(plans_for([propeller]).stages()) == [first, last]
