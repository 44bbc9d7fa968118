"""A correction names one thing and its reason; what stands leaves the old out."""

import pytest
from django.db import IntegrityError, transaction

from records.models import CouponTest
from records.models.base import standing_at
from tests import factories

pytestmark = pytest.mark.django_db


def test_a_correction_has_one_subject_and_says_why():
    board, lot = factories.BoardFactory(), factories.LotFactory()
    made = factories.CorrectionFactory(board=board)
    assert (made.subject_kind, str(made)) == (
        "board",
        "expires_on: 2027-01-01 to 2027-02-01",
    )
    for wrong in ({}, {"board": board, "lot": lot}, {"lot": lot, "reason": ""}):
        with pytest.raises(IntegrityError), transaction.atomic():
            factories.CorrectionFactory(**wrong)


def broken(coupon, **fields):
    return CouponTest.objects.create(
        coupon=coupon,
        happened_at=factories.NOON,
        method="chisel",
        wood_failure_pct=90,
        least_wood_failure_pct=75,
        verdict=CouponTest.Verdict.PASSED,
        written_at=factories.NOON,
        written_by=factories.PersonFactory(),
        **fields,
    )


def test_what_was_corrected_or_withdrawn_no_longer_stands():
    coupon = factories.CouponFactory()
    first = broken(coupon)
    second = broken(coupon, corrects=first, correction_reason="a 9 read as an 8")
    assert list(CouponTest.objects.all()) == list(coupon.tests.all()) == [second]
    assert list(CouponTest.everything.order_by("pk")) == [first, second]
    assert first.corrected_by == second
    broken(coupon, corrects=second, correction_reason="other coupon", withdrawn=True)
    assert not coupon.tests.exists()
    joined = type(coupon).objects.filter(standing_at("tests"), tests__isnull=False)
    assert not joined.exists()


def test_a_correcting_row_says_why_and_a_withdrawing_one_what():
    coupon = factories.CouponFactory()
    first = broken(coupon)
    for wrong in ({"corrects": first}, {"withdrawn": True, "correction_reason": "x"}):
        with pytest.raises(IntegrityError), transaction.atomic():
            broken(coupon, **wrong)
    broken(coupon, corrects=first, correction_reason="slip")
    with pytest.raises(IntegrityError), transaction.atomic():
        broken(coupon, corrects=first, correction_reason="again")
