"""What was checked and decided, as facts."""

import pytest

from records.models import Coupon, CouponTest
from records.queries.builds.progress import progress_of
from records.queries.conformity.checks import (
    concession_facts,
    coupon_facts,
    inspection_facts,
    instrument_facts,
)
from tests import factories, finished

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made


def test_every_test_of_a_coupon_is_told_also_a_failed_one(made):
    coupon = Coupon.objects.order_by("pk").first()
    CouponTest.objects.create(
        coupon=coupon,
        happened_at=factories.NOON,
        method="early",
        wood_failure_pct=20,
        least_wood_failure_pct=75,
        strength_pa=11_000_000.4,
        verdict="failed",
        written_at=factories.NOON,
        written_by=made.maker,
    )
    facts = coupon_facts(progress_of(made.propeller))
    verdicts = [(f["coupon"], f["verdict"]) for f in facts]
    assert (coupon.number, "failed") in verdicts
    assert (coupon.number, "passed") in verdicts
    assert {f["age_h"] for f in facts} == {0, 48}
    assert "11000000" in {f["strength_pa"] for f in facts}


def test_each_instrument_is_told_with_its_calibration(made):
    facts = instrument_facts(progress_of(made.propeller))
    assert len(facts) == 6
    assert {f["calibrated_on"] for f in facts} == {"2026-01-10"}
    assert {f["due_on"] for f in facts} == {"2030-01-10"}
    assert "Blade protractor" in {f["name"] for f in facts}


def test_a_concession_is_told_in_the_words_for_the_customer(made):
    reading = made.propeller.reading_set.filter(characteristic__code="chord").first()
    deviation = factories.DeviationFactory(number="D0004", state="closed")
    subject = factories.DeviationSubjectFactory(
        deviation=deviation, propeller=made.propeller, reading=reading
    )
    disposition = factories.DispositionFactory(
        deviation=deviation,
        kind="use_as_is",
        plain_words="4 mm wider at one station.",
        design_authority="Drawing office, note 14",
    )
    factories.DisposedSubjectFactory(disposition=disposition, subject=subject)
    (fact,) = concession_facts(progress_of(made.propeller))
    assert fact["number"] == "D0004"
    assert fact["words"] == "4 mm wider at one station."
    assert fact["accepted_by"] == "Drawing office, note 14"


def test_the_inspector_and_the_kinds_of_check_are_told(made):
    facts = inspection_facts(progress_of(made.propeller))
    assert facts["inspector"] == "Ines Perrot"
    assert facts["stage"] == "Release"
    (kind,) = facts["kinds"]
    assert kind["kind"] == "independent person"
    assert len(kind["stages"]) == 9


def test_before_any_signature_nobody_inspected(made):
    bare = factories.BlankFactory(route=made.propeller.blank.route)
    facts = inspection_facts(progress_of(bare))
    assert facts == {"inspector": None, "kind": None, "kinds": []}
