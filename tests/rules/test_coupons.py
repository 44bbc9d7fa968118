import datetime as dt
from decimal import Decimal

import pytest

from records.models import Coupon, CouponTest, Mix
from records.rules import coupons
from tests.factories import NOON

DAY = dt.timedelta(days=1)


def broken(**kwargs):
    answers = {
        "coupon": Coupon(number="C1", made_at=NOON),
        "happened_at": NOON + DAY,
        "wood_failure_pct": Decimal(80),
        "least_wood_failure_pct": Decimal(75),
        "strength_pa": 12e6,
        "least_strength_pa": 11.7e6,
    }
    return CouponTest(**(answers | kwargs))


def test_a_coupon_is_made_after_its_mix():
    mix = Mix(number="M1", mixed_at=NOON)
    assert coupons.coupon_is_possible(mix, NOON, NOON) == []
    assert coupons.coupon_is_possible(mix, NOON - DAY, NOON)


@pytest.mark.parametrize(
    ("figures", "verdict"),
    [
        ({}, "passed"),
        ({"wood_failure_pct": Decimal(75), "strength_pa": 11.7e6}, "passed"),
        ({"wood_failure_pct": Decimal("74.9")}, "failed"),
        ({"strength_pa": 11.6e6}, "failed"),
        ({"strength_pa": None}, "passed"),
        ({"least_strength_pa": None, "strength_pa": 1.0}, "passed"),
    ],
)
def test_a_test_passes_at_every_limit_or_above(figures, verdict):
    assert coupons.verdict_of(broken(**figures)) == verdict


def test_a_failure_says_by_what():
    both = broken(wood_failure_pct=Decimal(20), strength_pa=5e6)
    said = coupons.failed_in_words(both)
    assert said.startswith("Coupon C1 failed: 20\xa0% wood failure, at least 75\xa0%")
    assert "5.00\xa0MPa (725\xa0psi) shear strength, at least 11.70\xa0MPa" in said


def test_everything_impossible_is_said_at_once():
    test = broken(
        happened_at=NOON - DAY,
        wood_failure_pct=Decimal(101),
        load_n=Decimal(-1),
        area_mm2=Decimal(0),
    )
    fields = [f.field for f in coupons.breaking_is_possible(test, NOON + DAY)]
    assert fields == ["happened_at", "wood_failure_pct", "load_n", "area_mm2"]


def test_a_load_needs_its_area():
    test = broken(load_n=Decimal(20000))
    [finding] = coupons.breaking_is_possible(test, NOON + DAY)
    assert finding.field == "area_mm2"


def test_a_limit_is_stated_or_asked_for():
    assert coupons.limit_is_known(Decimal(75)) == []
    [finding] = coupons.limit_is_known(None)
    assert "common practice, no source" in finding.sentence
