"""A series is read as the e-Handbook reads it, and says when it can't be."""

import csv
import datetime as dt
from pathlib import Path

import pytest

from records.queries.trends import characteristics_read, series_of
from records.rules.trends import trend_of
from tests import factories

SHARED = Path(__file__).resolve().parents[2] / "shared"


def read(values, characteristic, **fields):
    for number, value in enumerate(values):
        factories.ReadingFactory(
            characteristic=characteristic,
            entered=str(value),
            judged=value,
            judged_unit=characteristic.unit,
            happened_at=factories.NOON + dt.timedelta(hours=number),
            **fields,
        )


@pytest.fixture
def characteristic(shop):
    stage = factories.StageFactory(code="final-balance", name="Final balance")
    return factories.CharacteristicFactory(stage=stage, code="track", name="Track")


def test_the_handbook_s_flow_rates_give_its_control_lines(characteristic):
    """NIST/SEMATECH e-Handbook 6.3.2.2: centre 50.81, lines 55.8041 and 45.8159.

    The handbook rounds d2 to 1.128; exact, the lines move by less than 0.002.
    """
    with (SHARED / "nist_imr_flowrate.csv").open() as file:
        rows = list(csv.reader(line for line in file if not line.startswith("#")))
    read([row[1] for row in rows[1:]], characteristic)
    trend = trend_of(series_of("final-balance", "track"))
    assert trend.chart.centre == pytest.approx(50.81, abs=1e-9)
    assert trend.chart.high == pytest.approx(55.8041, abs=2e-3)
    assert trend.chart.low == pytest.approx(45.8159, abs=2e-3)
    assert trend.findings == []


def test_ten_readings_are_too_few_to_call_a_process_capable(characteristic):
    read(["0.4", "0.5", "0.6"] * 3, characteristic, low=None, high="1.5")
    trend = trend_of(series_of("final-balance", "track"))
    assert "too few" in trend.capability.lower()


def test_a_run_on_one_side_is_named_with_its_propeller(characteristic):
    propeller = factories.PropellerFactory(serial="2026-777")
    values = ["0.5", "0.7"] * 10 + ["0.62"] * 8
    read(values, characteristic, propeller=propeller)
    trend = trend_of(series_of("final-balance", "track"))
    assert any("8 in a row" in f.sentence for f in trend.findings)
    assert all("2026-777" in f.sentence for f in trend.findings)


def test_a_single_reading_is_no_trend(characteristic):
    read(["0.5"], characteristic)
    assert trend_of(series_of("final-balance", "track")) is None
    assert characteristics_read() == []


def test_readings_that_never_change_give_no_pattern(characteristic):
    read(["0.5"] * 12, characteristic)
    assert trend_of(series_of("final-balance", "track")).findings == []


def test_nothing_read_is_no_series(shop):
    assert series_of("final-balance", "track") is None


def test_a_corrected_reading_is_left_out(characteristic):
    read(["0.5", "0.6", "9.9"], characteristic)
    wrong = characteristic.readings.get(entered="9.9")
    factories.ReadingFactory(
        characteristic=characteristic,
        propeller=wrong.propeller,
        entered="0.55",
        judged="0.55",
        judged_unit="mm",
        corrects=wrong,
        reason="Slip of the pen.",
    )
    assert sorted(series_of("final-balance", "track").values) == [0.5, 0.55, 0.6]


def test_figures_of_the_drawing_are_charted_as_differences(characteristic):
    angle = factories.CharacteristicFactory(
        stage=characteristic.stage,
        code="angle",
        name="Blade angle",
        unit="deg",
        nominal="angle",
    )
    read(["36.6"], angle, low="36.01", high="37.01")
    read(["16.4"], angle, low="15.99", high="16.99")
    series = series_of("final-balance", "angle")
    assert series.values == pytest.approx([0.09, -0.09])
    assert (series.low, series.high) == pytest.approx((-0.5, 0.5))


def test_another_unit_is_left_out_and_counted(characteristic):
    read(["0.5", "0.6"], characteristic)
    factories.ReadingFactory(
        characteristic=characteristic,
        judged="20",
        judged_unit="thou",
        happened_at=factories.NOON - dt.timedelta(days=1),
    )
    series = series_of("final-balance", "track")
    assert (len(series.points), series.left_out) == (2, 1)
