"""Gauges are registered, calibrated as found and as left, withdrawn and returned.

As found and as left are both kept; suspect gear goes out of service and its reason is
known before it returns: ISO/IEC 17025 and ISO 10012 (rules-and-standards, section 7).
"""

import datetime as dt
from dataclasses import replace
from decimal import Decimal

import pytest

from records.models import Attachment, Calibration, Gauge, GaugeChange, LedgerEntry
from records.services import gauges
from records.services.refusal import Refusal
from tests import factories
from tests.rules.test_files import picture
from tests.services.test_files import Sent

pytestmark = pytest.mark.django_db
D = Decimal


def refused(do, **kwargs):
    """Do it, and see that it is refused and that nothing at all was written."""
    before = counts()
    with pytest.raises(Refusal) as refusal:
        do(**kwargs)
    assert counts() == before
    return {f.field: f.sentence for f in refusal.value.findings}


def counts():
    tables = (Gauge, Calibration, GaugeChange, LedgerEntry, Attachment)
    return [table.objects.count() for table in tables]


@pytest.fixture
def gauge(shop):
    """A rule that reads mm."""
    gauge = factories.GaugeFactory(number="G07", interval_days=365)
    gauge.refresh_from_db()
    return gauge


def register(act, **kwargs):
    facts = {
        "number": "G12",
        "name": "Moisture meter",
        "unit": "%",
        "range_low": D(5),
        "range_high": D(40),
        "resolution": D("0.1"),
        "interval_days": 180,
    }
    return gauges.add_gauge(act=act, **{**facts, **kwargs})


def calibrate(act, gauge, **kwargs):
    facts = {
        "done_on": act.at.date(),
        "unit": "mm",
        "as_found_error": D("0.03"),
        "as_left_error": D("0.00"),
        "permissible_error": D("0.05"),
        "expanded_uncertainty": D("0.01"),
        "certificate": "K-2031",
        "standard": "Gauge blocks, traceable to the national institute",
    }
    return gauges.calibrate_gauge(act=act, gauge=gauge, **{**facts, **kwargs})


def test_gauge_is_registered_once(act):
    register(act)
    assert "No number is used twice" in refused(register, act=act)["number"]


def test_slips_in_a_gauge_are_all_named(act):
    result = refused(register, act=act, unit="moist", range_high=D(1), interval_days=0)
    assert set(result) == {"unit", "range_high", "interval_days"}


def test_register_is_kept_by_whoever_may_change_gauges(act, gauge):
    maker = replace(act, by=factories.PersonFactory())
    assert "change limits" in refused(register, act=maker)[""]
    assert "" in refused(calibrate, act=maker, gauge=gauge)
    assert "" in refused(
        gauges.set_interval, act=maker, gauge=gauge, interval_days=5, reason="x"
    )


def test_calibration_is_due_again_after_the_interval(act, gauge):
    calibration = calibrate(act, gauge, photo=Sent(b"%PDF-1.7 %%EOF", "k.pdf"))
    assert calibration.next_due_on - calibration.done_on == dt.timedelta(days=365)
    assert Attachment.objects.get().gauge == gauge
    assert Attachment.objects.get().caption == "K-2031"


def test_calibration_in_the_future_is_refused(act, gauge):
    later = act.at.date() + dt.timedelta(days=1)
    assert (
        "still to come"
        in refused(calibrate, act=act, gauge=gauge, done_on=later)["done_on"]
    )


def test_error_as_found_without_a_unit_is_refused(act, gauge):
    result = refused(calibrate, act=act, gauge=gauge, unit="")
    assert "unit of the error as found" in result["unit"]


def test_all_that_is_wrong_with_a_calibration_comes_at_once(act, gauge):
    result = refused(
        calibrate,
        act=act,
        gauge=gauge,
        unit="psi",
        permissible_error=D(-1),
        next_due_on=act.at.date(),
    )
    assert set(result) == {"unit", "permissible_error", "next_due_on"}


def test_gauge_found_out_keeps_both_figures(act, gauge):
    calibrate(act, gauge, as_found_error=D("-0.12"))
    calibration = Calibration.objects.get()
    assert not calibration.found_inside
    assert calibration.left_inside


def test_anybody_may_withdraw_a_gauge_with_a_reason(act, gauge):
    maker = replace(act, by=factories.PersonFactory())
    result = refused(
        gauges.withdraw_gauge,
        act=maker,
        gauge=gauge,
        reason=" ",
        happened_at=act.at,
    )
    assert set(result) == {"reason"}
    gauges.withdraw_gauge(act=maker, gauge=gauge, reason="dropped", happened_at=act.at)
    gauge.refresh_from_db()
    assert gauge.state == Gauge.State.WITHDRAWN
    assert str(GaugeChange.objects.get()) == "withdrawn: dropped"


def test_withdrawn_gauge_returns_only_with_a_calibration_that_holds(act, gauge):
    gauges.withdraw_gauge(act=act, gauge=gauge, reason="dropped", happened_at=act.at)
    back = {"gauge": gauge, "reason": "checked", "happened_at": act.at}
    assert "Calibrate it" in refused(gauges.return_gauge, act=act, **back)[""]
    calibrate(act, gauge)
    gauges.return_gauge(act=act, **back)
    gauge.refresh_from_db()
    assert gauge.state == Gauge.State.IN_SERVICE
    assert refused(gauges.return_gauge, act=act, **back)


def test_interval_changes_with_a_reason_that_says_from_what(act, gauge):
    gauges.set_interval(act=act, gauge=gauge, interval_days=456, reason="found well")
    gauge.refresh_from_db()
    assert gauge.interval_days == 456
    assert GaugeChange.objects.get().reason == "from 365 to 456 days: found well"
    assert refused(
        gauges.set_interval, act=act, gauge=gauge, interval_days=4000, reason="x"
    )


def test_photo_of_a_certificate_is_kept_as_a_picture(act, gauge):
    calibrate(act, gauge, photo=Sent(picture("PNG"), "cert.png"))
    assert Attachment.objects.get().file.media_type == "image/jpeg"


def test_a_number_that_leads_to_no_page_is_refused(act):
    with pytest.raises(Refusal, match="stamped and scanned"):
        gauges.add_gauge(
            act=act,
            number="G/1",
            name="Rule",
            unit="mm",
            range_low=Decimal(0),
            range_high=Decimal(100),
            resolution=Decimal(1),
            interval_days=365,
        )
