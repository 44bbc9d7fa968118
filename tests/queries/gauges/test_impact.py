"""A gauge found out of tolerance, and what it touches.

ISO 9001:2015, 7.1.5.2, and ISO 10012 ask to find out whether results since the last
good check were affected (rules-and-standards, section 7). Figures: corrected = shown
less error, against the limit stored with each reading.
"""

import datetime as dt
from decimal import Decimal

import pytest

from records.engineering.gauge_error import Effect
from records.models import PressSample
from records.queries.gauges.impact import impact_of
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db
DAYS = dt.timedelta(days=1)


@pytest.fixture
def gauge(shop):
    gauge = factories.GaugeFactory(number="TP-1", unit="mm")
    factories.CalibrationFactory(gauge=gauge, done_on=dt.date(2026, 1, 10))
    return gauge


@pytest.fixture
def found_bad(gauge):
    """It read 0.20 mm short: what it showed less what was true is -0.20 mm."""
    return factories.CalibrationFactory(
        gauge=gauge, done_on=dt.date(2026, 4, 1), as_found_error=Decimal("-0.20")
    )


def track(gauge, shown, at=NOON, **kwargs):
    words = {"high": Decimal("1.5"), "judged_unit": "mm", "entered": shown}
    words |= {"judged": Decimal(shown), "gauge": gauge, "happened_at": at}
    return factories.ReadingFactory(**words | kwargs)


def effects(calibration):
    return [line.effect for line in impact_of(calibration).lines]


def test_each_reading_gets_its_class(gauge, found_bad):
    for judged in ("1.00", "1.29", "1.40", "1.70"):
        track(gauge, judged)
    impact = impact_of(found_bad)
    assert [line.effect for line in impact.lines] == [
        Effect.UNAFFECTED,
        Effect.MARGINAL,
        Effect.WOULD_FAIL,
        Effect.UNAFFECTED,
    ]
    assert [line.effect for line in impact.affected] == [
        Effect.WOULD_FAIL,
        Effect.MARGINAL,
    ]
    assert impact.lines[2].corrected == Decimal("1.60")
    assert (impact.count(Effect.UNAFFECTED), impact.count(None)) == (2, 0)


def test_verdicts_of_the_day_stay(gauge, found_bad):
    reading = track(gauge, "1.40")
    impact_of(found_bad)
    reading.refresh_from_db()
    assert reading.verdict == "inside"


@pytest.mark.parametrize(
    ("at", "count"),
    [
        (dt.datetime(2026, 1, 9, 23, tzinfo=dt.UTC), 0),
        (dt.datetime(2026, 1, 10, 0, tzinfo=dt.UTC), 1),
        (dt.datetime(2026, 4, 1, 23, tzinfo=dt.UTC), 1),
        (dt.datetime(2026, 4, 2, 0, tzinfo=dt.UTC), 0),
    ],
)
def test_only_since_the_last_good_calibration(gauge, found_bad, at, count):
    track(gauge, "1.40", at)
    assert len(effects(found_bad)) == count


def test_corrected_readings_and_other_gauges_are_left_out(gauge, found_bad):
    wrong = track(gauge, "1.40")
    track(factories.GaugeFactory(), "1.41", corrects=wrong, reason="other gauge")
    assert effects(found_bad) == []


def test_error_is_converted_into_the_limits_unit(gauge, found_bad):
    track(
        gauge,
        "0.055",
        judged_unit="in",
        unit="in",
        high=Decimal("0.0625"),
    )
    (line,) = impact_of(found_bad).lines
    # 0.055 in + 0.20 mm / 25.4 = 0.06287 in, above 0.0625 in
    assert line.effect is Effect.WOULD_FAIL
    assert float(line.corrected) == pytest.approx(0.055 + 0.20 / 25.4)


@pytest.mark.parametrize(
    "change",
    [
        {"high": None, "low": None},
        {"judged": None, "unit": "", "judged_unit": "", "entered": "yes"},
        {"unit": "deg", "judged_unit": "deg"},
    ],
)
def test_what_arithmetic_cannot_tell_is_listed_as_such(gauge, found_bad, change):
    track(gauge, "1.40", **change)
    assert effects(found_bad) == [None]


class TestPressGauge:
    """Pressure at the glue line is in proportion to what the press gauge shows."""

    @pytest.fixture
    def calibration(self, shop):
        gauge = factories.GaugeFactory(number="PG-1", unit="bar")
        return factories.CalibrationFactory(
            gauge=gauge,
            unit="bar",
            done_on=dt.date(2026, 4, 1),
            as_found_error=Decimal("8"),
            permissible_error=Decimal("2"),
            expanded_uncertainty=Decimal("0.5"),
        )

    @pytest.fixture
    def load(self):
        blank = factories.glued_blank(3)
        factories.PropellerFactory(serial="SN-031", blank=blank)
        return blank.loaded.get().load

    def sample(self, load, gauge, shown, pressure, minutes=0):
        return PressSample.objects.create(
            load=load,
            at=NOON + dt.timedelta(minutes=minutes),
            entered=shown,
            unit="bar",
            glue_line_pa=pressure,
            source="typed",
            gauge=gauge,
            written_at=NOON,
            written_by=load.written_by,
        )

    @pytest.mark.parametrize(
        ("shown", "pressure", "effect"),
        [
            ("80", 1.20e6, Effect.UNAFFECTED),  # true 72 bar, 1.08 MPa
            ("74", 1.11e6, Effect.WOULD_FAIL),  # true 66 bar, 0.99 MPa
            ("75", 1.125e6, Effect.MARGINAL),  # true 67 bar, 1.005 MPa
            ("50", 0.75e6, Effect.UNAFFECTED),  # below as read: known on the day
        ],
    )
    def test_samples_of_a_load(self, calibration, load, shown, pressure, effect):
        self.sample(load, calibration.gauge, shown, pressure)
        (line,) = impact_of(calibration).lines
        assert (line.thing, line.effect) == (load, effect)

    def test_worst_sample_counts_for_the_load(self, calibration, load):
        self.sample(load, calibration.gauge, "80", 1.2e6)
        self.sample(load, calibration.gauge, "74", 1.11e6, minutes=1)
        impact = impact_of(calibration)
        assert [line.effect for line in impact.lines] == [Effect.WOULD_FAIL]
        assert [d.serial for d in impact.serials] == ["SN-031"]

    def test_computed_reading_is_scaled(self, calibration, load):
        factories.ReadingFactory(
            characteristic__computed="glue_line_pressure",
            characteristic__unit="bar",
            propeller=None,
            load=load,
            gauge=calibration.gauge,
            entered="74",
            judged=Decimal(1110000),
            judged_unit="Pa",
            low=Decimal(1000000),
        )
        (line,) = impact_of(calibration).lines
        assert line.effect is Effect.WOULD_FAIL
        assert float(line.corrected) == pytest.approx(0.99e6)


def test_reading_on_a_board_reaches_its_propellers(gauge, found_bad):
    blank = factories.glued_blank(3)
    for serial, state in (("SN-031", "in_work"), ("SN-030", "delivered")):
        factories.PropellerFactory(blank=blank, serial=serial, state=state)
    board = blank.laminations.first().board
    track(gauge, "1.40", propeller=None, board=board)
    impact = impact_of(found_bad)
    assert [(d.serial, d.in_shop) for d in impact.serials] == [
        ("SN-030", False),
        ("SN-031", True),
    ]
    assert list(impact.reached) == [("board", board.pk)]


def test_queries_do_not_grow(gauge, found_bad, django_assert_num_queries):
    for _ in range(20):
        blank = factories.glued_blank(3)
        factories.PropellerFactory(blank=blank)
        track(gauge, "1.40", propeller=None, blank=blank)
        track(gauge, "1.40", propeller=None, board=blank.laminations.first().board)
    with django_assert_num_queries(5):
        impact = impact_of(found_bad)
        names = {str(line.thing) for line in impact.affected}
    assert (len(names), len(impact.serials)) == (40, 20)
