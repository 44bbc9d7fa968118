"""A trace as plain values holds nothing that JSON can't carry, and does not grow."""

import json

import pytest

from records.queries.trace.contract import reach_facts, serial_facts
from records.queries.trace.history import where_from, where_to
from tests import factories

pytestmark = pytest.mark.django_db


def test_coupon_tests_and_decisions_are_spelled(shop):
    propeller = factories.PropellerFactory(blank=factories.glued_blank(3))
    coupon = factories.CouponFactory(mix=propeller.blank.spreads.first().mix)
    coupon.tests.create(
        happened_at=factories.NOON,
        method="chisel",
        wood_failure_pct=85,
        least_wood_failure_pct=80,
        verdict="passed",
        written_at=factories.NOON,
        written_by=coupon.written_by,
    )
    subject = factories.DeviationSubjectFactory(propeller=propeller)
    factories.DispositionFactory(deviation=subject.deviation)
    facts = json.loads(json.dumps(serial_facts(where_from(propeller))))
    (test,) = facts["coupons"][0]["tests"]
    assert (test["verdict"], test["wood_failure_pct"]) == ("passed", "85.0")
    assert facts["deviations"][0]["decisions"] == ["rework"]


def test_blank_has_no_serial_yet(shop):
    facts = serial_facts(where_from(factories.glued_blank(3)))
    assert (facts["serial"], facts["state"]) == (None, "glued")


def test_nothing_is_asked_beyond_the_trace(shop, django_assert_num_queries):
    blank = factories.glued_blank(3)
    for _ in range(20):
        propeller = factories.PropellerFactory(blank=blank)
        factories.ReadingFactory(propeller=propeller, gauge=factories.GaugeFactory())
    origin = where_from(propeller)
    with django_assert_num_queries(0):
        serial_facts(origin)
    lot = blank.laminations.first().board.lot
    reached = where_to("lot", lot.pk)
    with django_assert_num_queries(12):
        assert len(reach_facts("lot", lot, reached)["serials"]) == 20
