import datetime as dt
from decimal import Decimal

import pytest

from records.queries import coupons
from records.queries.coupons import STRENGTH, WOOD_FAILURE
from tests import factories
from tests.factories import NOON
from tests.models.test_coupons import broken

pytestmark = pytest.mark.django_db


def characteristic(route, purpose, unit, **limit):
    stage = factories.StageFactory(revision=route, scope="blank")
    characteristic = factories.CharacteristicFactory(
        stage=stage, purpose=purpose, on="coupon", unit=unit
    )
    return factories.LimitFactory(
        characteristic=characteristic, unit=unit, **({"high": None} | limit)
    )


def test_the_list_has_the_last_verdict_in_one_query(django_assert_num_queries):
    coupon = factories.CouponFactory()
    broken(coupon, "failed")
    broken(coupon, "passed")
    factories.CouponFactory()
    with django_assert_num_queries(1):
        result = {c: (c.tested, c.last) for c in coupons.coupons_listed()}
    assert result[coupon] == (2, "passed")
    assert sorted(result.values(), key=str) == [(0, None), (2, "passed")]


def test_tests_come_first_to_last(django_assert_num_queries):
    coupon = factories.CouponFactory()
    first, second = broken(coupon, "failed"), broken(coupon, "passed")
    with django_assert_num_queries(1):
        assert coupons.tests_of(coupon) == [first, second]


def test_joints_covered_are_named_once_a_blank():
    mix = factories.MixFactory()
    blank = factories.glued_blank(4, mix=mix)
    factories.JointSpreadFactory(blank=blank, joint=2, mix=mix, side="upper")
    assert coupons.joints_covered(mix) == [(blank.number, [1, 2, 3])]


def test_mixes_in_joints_without_a_coupon():
    bare, covered = factories.MixFactory.create_batch(2)
    for mix in (bare, covered):
        factories.JointSpreadFactory(mix=mix)
    factories.CouponFactory(mix=covered)
    factories.MixFactory()
    since = NOON - dt.timedelta(days=1)
    assert list(coupons.mixes_without_coupon(since)) == [bare]


def test_limits_come_from_the_route_of_the_blank():
    mix = factories.MixFactory()
    blank = factories.glued_blank(3, mix=mix)
    characteristic(blank.route, WOOD_FAILURE, "%", low=80)
    characteristic(blank.route, STRENGTH, "MPa", low="11.7")
    limits = coupons.limits_for(mix, NOON)
    assert limits.wood_failure_pct == 80
    assert limits.strength_pa == pytest.approx(11.7e6)
    assert "common practice, no source (limit 1)" in limits.source


def test_a_designs_own_limit_comes_before_the_routes():
    mix = factories.MixFactory()
    blank = factories.glued_blank(3, mix=mix)
    general = characteristic(blank.route, WOOD_FAILURE, "%", low=90)
    factories.LimitFactory(
        characteristic=general.characteristic,
        design_revision=blank.revision,
        low=70,
        high=None,
        unit="%",
    )
    assert coupons.limits_for(mix, NOON).wood_failure_pct == 70


def test_the_strictest_of_two_units_is_found():
    mix = factories.MixFactory()
    for low, unit in ((Decimal("11.7"), "MPa"), (2800, "psi")):
        characteristic(factories.glued_blank(3, mix=mix).route, STRENGTH, unit, low=low)
    assert coupons.limits_for(mix, NOON).strength_pa == pytest.approx(19.3e6, rel=1e-3)


def test_a_mix_in_no_joint_is_held_against_the_routes_in_use():
    characteristic(factories.RouteRevisionFactory(), WOOD_FAILURE, "%", low=80)
    mix = factories.MixFactory()
    assert coupons.limits_for(mix, NOON).wood_failure_pct == 80


def test_a_limit_with_no_least_says_nothing():
    mix = factories.MixFactory()
    blank = factories.glued_blank(3, mix=mix)
    characteristic(blank.route, WOOD_FAILURE, "%", low=None, high=100)
    assert coupons.limits_for(mix, NOON).wood_failure_pct is None


def test_limits_take_four_queries_however_many_blanks(django_assert_num_queries):
    mix = factories.MixFactory()
    for _ in range(4):
        characteristic(
            factories.glued_blank(3, mix=mix).route, WOOD_FAILURE, "%", low=80
        )
    with django_assert_num_queries(3):
        coupons.limits_for(mix, NOON)
