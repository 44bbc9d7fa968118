"""Coupons: tests stay beside each other, and a failure holds the mix."""

import datetime as dt
from decimal import Decimal

import pytest

from records.models import CouponTest, Hold, Limit
from records.queries.coupons import STRENGTH, WOOD_FAILURE
from records.queries.reach.holds import holds_on
from records.services import coupons
from records.services.refusal import Refusal
from tests import factories
from tests.factories import NOON

Verdict = CouponTest.Verdict
DAY = dt.timedelta(days=1)


@pytest.fixture
def mix(shop):
    return factories.MixFactory()


@pytest.fixture
def coupon(mix):
    return factories.CouponFactory(mix=mix)


def route_limit(blank, purpose, low, unit, **kwargs):
    """Write a limit of a coupon into the route of a blank."""
    stage = factories.StageFactory(revision=blank.route, scope="blank")
    characteristic = factories.CharacteristicFactory(
        stage=stage, purpose=purpose, on="coupon", unit=unit
    )
    return factories.LimitFactory(
        characteristic=characteristic, low=low, high=None, unit=unit, **kwargs
    )


def break_it(act, coupon, wood=80, days=1, **kwargs):
    return coupons.record_coupon_test(
        act=act,
        coupon=coupon,
        happened_at=NOON + days * DAY,
        method="chisel",
        wood_failure_pct=Decimal(wood),
        **({"least_wood_failure_pct": Decimal(75)} | kwargs),
    )


def fields(refusal):
    return {f.field for f in refusal.value.findings}


class TestMaking:
    def test_a_coupon_has_a_number_and_a_twin(self, act, mix):
        coupon = coupons.make_coupon(
            act=act, mix=mix, wood="Yellow birch", made_at=NOON, twin_place="shelf 2"
        )
        assert coupon.number == "C0001"

    @pytest.mark.parametrize(
        "made", [NOON - DAY, dt.datetime(2099, 1, 1, tzinfo=dt.UTC)]
    )
    def test_not_before_its_mix_nor_in_the_future(self, act, mix, made):
        with pytest.raises(Refusal) as refusal:
            coupons.make_coupon(act=act, mix=mix, wood="Birch", made_at=made)
        assert fields(refusal) == {"made_at"}


class TestTesting:
    def test_strength_is_load_over_area(self, act, coupon):
        # 25 000 N on 3 in2 (1935.48 mm2) is 12.917 MPa: definition of ASTM D905.
        test = break_it(act, coupon, load_n=Decimal(25000), area_mm2=Decimal("1935.5"))
        assert test.strength_pa == pytest.approx(12.917e6, rel=5e-4)
        assert test.verdict == Verdict.PASSED

    @pytest.mark.parametrize(
        ("wood", "verdict"), [(74, "failed"), (75, "passed"), (100, "passed")]
    )
    def test_without_a_route_the_shops_stated_rule_holds(
        self, act, coupon, wood, verdict
    ):
        # 75 % is a shop's rule: common practice, no source.
        test = break_it(act, coupon, wood)
        assert test.verdict == verdict
        assert "stated with the test" in test.limit_source

    def test_without_any_limit_it_is_asked_for(self, act, coupon):
        with pytest.raises(Refusal) as refusal:
            break_it(act, coupon, least_wood_failure_pct=None)
        assert fields(refusal) == {"least_wood_failure_pct"}
        assert not CouponTest.objects.exists()

    def test_the_routes_limit_comes_before_the_stated_one(self, act, mix, coupon):
        blank = factories.glued_blank(3, mix=mix)
        limit = route_limit(blank, WOOD_FAILURE, 85, "%")
        test = break_it(act, coupon, 80)
        assert test.verdict == Verdict.FAILED
        assert test.least_wood_failure_pct == 85
        assert limit.source in test.limit_source

    def test_of_several_routes_the_strictest_holds(self, act, mix, coupon):
        for low in (60, 90):
            route_limit(factories.glued_blank(3, mix=mix), WOOD_FAILURE, low, "%")
        assert break_it(act, coupon, 80).least_wood_failure_pct == 90

    def test_the_limit_of_that_day_holds(self, act, mix, coupon):
        blank = factories.glued_blank(3, mix=mix)
        limit = route_limit(blank, WOOD_FAILURE, 60, "%")
        factories.LimitFactory(
            characteristic=limit.characteristic,
            number=2,
            low=95,
            high=None,
            unit="%",
            in_force_from=NOON + 5 * DAY,
        )
        assert break_it(act, coupon, 80, days=1).least_wood_failure_pct == 60
        assert break_it(act, coupon, 80, days=6).least_wood_failure_pct == 95
        assert Limit.objects.count() == 2

    def test_too_weak_a_joint_fails_though_the_wood_tore(self, act, mix, coupon):
        blank = factories.glued_blank(3, mix=mix)
        route_limit(blank, WOOD_FAILURE, 75, "%")
        route_limit(blank, STRENGTH, "11.7", "MPa")
        block = {"load_n": Decimal(20000), "area_mm2": Decimal(2000)}
        test = break_it(act, coupon, 90, **block)
        assert test.verdict == Verdict.FAILED
        assert "10.00\xa0MPa" in Hold.objects.get().reason
        assert break_it(act, coupon, 90, days=2).verdict == Verdict.PASSED

    def test_situation_11_a_late_pass_stands_beside_the_early_fail(self, act, coupon):
        """Late cure: coupon fails early, twin passes later; both results stay."""
        break_it(act, coupon, 40, days=1)
        break_it(act, coupon, 95, days=8)
        verdicts = [test.verdict for test in coupon.tests.all()]
        assert verdicts == [Verdict.FAILED, Verdict.PASSED]
        assert Hold.objects.standing().count() == 1

    def test_situation_10_a_failure_reaches_every_child_of_the_mix(
        self, act, mix, coupon
    ):
        """Coupon fails two weeks later, blanks already carved or delivered."""
        propeller = factories.PropellerFactory(
            blank=factories.glued_blank(3, mix=mix), state="delivered"
        )
        break_it(act, coupon, 20, days=14)
        [hold] = holds_on("propeller", propeller.pk)
        assert hold.mix == mix
        assert f"Coupon {coupon} failed: 20\xa0% wood failure" in hold.reason

    def test_a_second_failure_places_no_second_hold(self, act, coupon):
        break_it(act, coupon, 20, days=1)
        break_it(act, coupon, 20, days=2)
        assert Hold.objects.count() == 1

    @pytest.mark.parametrize(
        ("wrong", "field"),
        [
            ({"wood": 103}, "wood_failure_pct"),
            ({"wood": -1}, "wood_failure_pct"),
            ({"days": -1}, "happened_at"),
            ({"days": 365 * 50}, "happened_at"),
            ({"load_n": Decimal(25000)}, "area_mm2"),
            ({"area_mm2": Decimal(1935)}, "load_n"),
            ({"load_n": Decimal(-1), "area_mm2": Decimal(1935)}, "load_n"),
            ({"load_n": Decimal(25000), "area_mm2": Decimal(0)}, "area_mm2"),
            ({"load_n": Decimal(25000), "area_mm2": Decimal(90000)}, "area_mm2"),
            ({"method": ""}, "method"),
        ],
    )
    def test_what_can_not_be_is_refused_at_its_field(self, act, coupon, wrong, field):
        method = wrong.pop("method", "chisel")
        answers = {"act": act, "coupon": coupon, "method": method}
        days = wrong.pop("days", 1)
        wood = Decimal(wrong.pop("wood", 80))
        with pytest.raises(Refusal) as refusal:
            coupons.record_coupon_test(
                **answers,
                happened_at=NOON + days * DAY,
                wood_failure_pct=wood,
                least_wood_failure_pct=Decimal(75),
                **wrong,
            )
        assert fields(refusal) == {field}
        assert not CouponTest.objects.exists()
        assert not Hold.objects.exists()
