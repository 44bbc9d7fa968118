"""A held part says what the hold is on, why, and what would end it."""

import pytest

from records.rules.holds import held
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(shop):
    blank = factories.glued_blank(3)
    return factories.PropellerFactory(serial="SN-041", blank=blank)


def test_nothing_held_is_no_finding(propeller):
    assert held(propeller) == []


def test_hold_on_its_mix_names_mix_reason_and_deviation(propeller):
    deviation = factories.DeviationFactory(number="D0007")
    mix = propeller.blank.spreads.first().mix
    factories.HoldFactory(mix=mix, deviation=deviation, reason="coupon failed.")
    (finding,) = held(propeller)
    assert finding.sentence == (
        f"Mix {mix.number}, which propeller SN-041 is made with, is on hold since "
        "2 Mar 2026: coupon failed. Decide on deviation D0007 and release the hold "
        "first."
    )
    assert finding.blocks


def test_hold_on_the_thing_itself(propeller):
    factories.HoldFactory(propeller=propeller, reason="dropped on the floor")
    (finding,) = held(propeller)
    assert finding.sentence == (
        "Propeller SN-041 is on hold since 2 Mar 2026: dropped on the floor. "
        "Release the hold, with a reason, before going on."
    )


def test_held_joint_is_named(propeller):
    factories.HoldFactory(blank=propeller.blank, joint=2, reason="closed late")
    (finding,) = held(propeller)
    assert finding.sentence.startswith(f"Joint 2 of blank {propeller.blank.number}, ")


def test_gauge_measured_the_part_rather_than_made_it(propeller):
    gauge = factories.GaugeFactory(number="G07")
    factories.ReadingFactory(propeller=propeller, gauge=gauge)
    factories.HoldFactory(gauge=gauge, reason="fell")
    (finding,) = held(propeller)
    assert "Gauge G07, which propeller SN-041 was measured with" in finding.sentence


def test_coupon_is_a_sample_of_the_glue(propeller):
    mix = propeller.blank.spreads.first().mix
    coupon = factories.CouponFactory(mix=mix, number="CX-1")
    factories.HoldFactory(coupon=coupon, reason="failed")
    sentences = [held(thing)[0].sentence for thing in (propeller, mix)]
    assert sentences[0].startswith(
        "Coupon CX-1, a sample of the glue in propeller SN-041, is on hold"
    )
    assert sentences[1].startswith(f"Coupon CX-1, a sample of mix {mix}, is on hold")


def test_hold_left_after_its_deviation_closed(propeller):
    closed = factories.DeviationFactory(number="D0009", state="closed")
    factories.HoldFactory(blank=propeller.blank, deviation=closed)
    (finding,) = held(propeller)
    assert finding.sentence.endswith("Release the hold of deviation D0009 first.")


def test_every_hold_is_told_at_once(propeller, django_assert_num_queries):
    factories.HoldFactory(propeller=propeller)
    factories.HoldFactory(load=propeller.blank.loaded.get().load)
    factories.HoldFactory(board=propeller.blank.laminations.first().board)
    with django_assert_num_queries(2):
        assert len(held(propeller)) == 3
