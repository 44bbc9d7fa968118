"""A gauge found out of tolerance opens one deviation, and holds what is in the shop."""

import datetime as dt
from decimal import Decimal

import pytest

from records.models import Deviation, Hold
from records.queries.reach.holds import holds_on
from records.services.deviations.gauges import open_gauge_deviation
from records.services.refusal import Refusal
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


@pytest.fixture
def calibration(shop):
    gauge = factories.GaugeFactory(number="TP-1")
    factories.CalibrationFactory(gauge=gauge, done_on=dt.date(2026, 1, 10))
    return factories.CalibrationFactory(
        gauge=gauge, done_on=dt.date(2026, 4, 1), as_found_error=Decimal("-0.20")
    )


def track(calibration, judged, **kwargs):
    return factories.ReadingFactory(
        gauge=calibration.gauge,
        entered=judged,
        judged=Decimal(judged),
        judged_unit="mm",
        high=Decimal("1.5"),
        happened_at=NOON,
        **kwargs,
    )


def opened(act, calibration):
    return open_gauge_deviation(act=act, calibration=calibration, happened_at=act.at)


def test_one_deviation_names_gauge_readings_and_delivered_serials(act, calibration):
    here = factories.PropellerFactory(serial="SN-031")
    gone = factories.PropellerFactory(serial="SN-030", state="delivered")
    fine = factories.PropellerFactory(serial="SN-029")
    bad = track(calibration, "1.40", propeller=here)
    sent = track(calibration, "1.30", propeller=gone)
    track(calibration, "1.00", propeller=fine)
    deviation = opened(act, calibration)
    rows = [(s.subject, s.reading) for s in deviation.subjects.order_by("pk")]
    assert rows == [(calibration.gauge, None), (here, bad), (gone, sent)]
    assert deviation.title == "Gauge TP-1 found out of tolerance"
    assert deviation.found == (
        "Error as found on 1 Apr 2026: \N{MINUS SIGN}0.2\xa0mm (certificate C-1).\n"
        "3 readings and press loads from 10 Jan 2026, 00:00 to 1 Apr 2026, 23:59: "
        "1 unaffected, 1 marginal, 1 would fail, 0 not to be told by arithmetic.\n"
        "Delivered, to be reviewed: SN-030."
    )


def test_holds_what_is_in_the_shop_only(act, calibration):
    here = factories.PropellerFactory()
    gone = factories.PropellerFactory(state="delivered")
    for propeller in (here, gone):
        track(calibration, "1.40", propeller=propeller)
    deviation = opened(act, calibration)
    assert holds_on("propeller", here.pk) == [deviation.holds.get()]
    assert holds_on("propeller", gone.pk) == []


def test_board_in_doubt_is_held_while_any_of_it_is_in_the_shop(act, calibration):
    blank = factories.glued_blank(3)
    board = blank.laminations.first().board
    gone = factories.PropellerFactory(blank=blank, state="delivered")
    track(calibration, "1.40", propeller=None, board=board)
    assert opened(act, calibration).subjects.filter(propeller=gone).exists()
    assert not Hold.objects.exists()


def test_loose_board_in_doubt_is_held(act, calibration):
    board = factories.BoardFactory()
    track(calibration, "1.40", propeller=None, board=board)
    assert opened(act, calibration).holds.get().board == board


def test_two_readings_of_one_part_make_one_hold(act, calibration):
    propeller = factories.PropellerFactory()
    track(calibration, "1.40", propeller=propeller, blade=1)
    track(calibration, "1.41", propeller=propeller, blade=2)
    deviation = opened(act, calibration)
    assert (deviation.subjects.count(), deviation.holds.count()) == (3, 1)


def test_verdicts_of_the_day_stay(act, calibration):
    reading = track(calibration, "1.40", propeller=factories.PropellerFactory())
    opened(act, calibration)
    reading.refresh_from_db()
    assert (reading.verdict, reading.judged) == ("inside", Decimal("1.4"))


def test_nothing_affected_is_kept_as_looked_at(act, calibration):
    deviation = opened(act, calibration)
    assert [s.subject for s in deviation.subjects.all()] == [calibration.gauge]
    assert "0 readings and press loads" in deviation.found
    assert not Hold.objects.exists()


def test_gauge_found_good_opens_nothing(act):
    good = factories.CalibrationFactory(as_found_error=Decimal("0.01"))
    with pytest.raises(Refusal, match=r"found with an error of 0.01.mm; 0.05.mm is"):
        opened(act, good)


def test_opened_twice_is_refused(act, calibration):
    opened(act, calibration)
    with pytest.raises(Refusal, match="Deviation D0001 about gauge TP-1 is open"):
        opened(act, calibration)
    assert Deviation.objects.count() == 1
