import pytest

from records.models import Coupon, CouponTest
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


def broken(coupon, verdict):
    return CouponTest.objects.create(
        coupon=coupon,
        happened_at=NOON,
        method="chisel",
        wood_failure_pct=80,
        least_wood_failure_pct=75,
        verdict=verdict,
        written_at=NOON,
        written_by=coupon.written_by,
    )


def test_tests_stay_beside_each_other():
    coupon = factories.CouponFactory()
    broken(coupon, "failed")
    broken(coupon, "passed")
    assert [str(test) for test in coupon.tests.all()] == ["failed", "passed"]


def test_whole_coupons_bring_glue_and_tests(django_assert_num_queries):
    for _ in range(3):
        broken(factories.CouponFactory(), "passed")
    with django_assert_num_queries(2):
        for coupon in Coupon.objects.with_related():
            assert coupon.mix.sheet.adhesive.name
            assert coupon.tests.all()[0].verdict == "passed"
