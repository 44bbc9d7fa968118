"""Control charts of single readings against the NIST/SEMATECH examples."""

import csv
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.signal import lfilter

from records.engineering.spc_charts import (
    cusum_chart,
    ewma_chart,
    individuals_chart,
)

SHARED = Path(__file__).resolve().parents[2] / "shared"
READINGS = st.lists(st.integers(-500, 500).map(lambda n: n / 10), min_size=2)
SHIFTS = st.integers(-1000, 1000).map(float)
SCALES = st.sampled_from([0.001, 0.5, 25.4, 1000.0])


def table(name):
    lines = (SHARED / name).read_text().splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def column(name, key):
    return [float(row[key]) for row in table(name)]


FLOW = column("nist_imr_flowrate.csv", "flow_rate")
NORMAL = np.random.default_rng(8).normal(25, 2, 60).tolist()


def test_individuals_chart_of_the_nist_flow_rates():
    # NIST/SEMATECH 6.3.2.2, data as quoted in public test fixtures: printed with
    # d2 = 1.128 and D4 = 3.267, so limits agree to 0.002 with the exact constants.
    chart = individuals_chart(FLOW)
    assert chart.centre == pytest.approx(50.81, abs=5e-5)
    assert chart.mean_range == pytest.approx(1.8778, abs=5e-5)
    assert chart.high == pytest.approx(55.8041, abs=0.002)
    assert chart.low == pytest.approx(45.8159, abs=0.002)
    assert chart.range_high == pytest.approx(6.1347, abs=0.001)
    assert chart.high == pytest.approx(55.8024, abs=5e-5)


def test_individuals_chart_agrees_with_the_constants_for_two_readings():
    # shared/spc_constants.csv: d2 and d3 by numerical integration, printed to 5e-6.
    row = next(row for row in table("spc_constants.csv") if row["n"] == "2")
    chart = individuals_chart([0.0, 1.0])
    assert 1 / chart.sigma == pytest.approx(float(row["d2"]), abs=5e-6)
    assert chart.range_high == pytest.approx(float(row["D4"]), abs=5e-6)
    assert chart.high - chart.centre == pytest.approx(float(row["E2"]), abs=5e-6)
    assert (float(row["D4"]) - 1) / 3 * float(row["d2"]) == pytest.approx(
        float(row["d3"]), abs=2e-5
    )


def test_moving_range_estimates_the_sigma_of_a_steady_process():
    # Definition: E(moving range) = d2 sigma. 200 000 draws, standard error 0.3 %.
    drawn = np.random.default_rng(1).normal(50, 2.5, 200_000).tolist()
    assert individuals_chart(drawn).sigma == pytest.approx(2.5, rel=0.01)


def test_moving_ranges_have_no_sign_and_keep_their_order():
    chart = individuals_chart([5.0, 3.0, 3.0, 7.0])
    assert chart.moving_ranges == (2.0, 0.0, 4.0)
    assert (chart.centre, chart.mean_range) == (4.5, 2.0)


def test_readings_that_never_change_put_the_limits_on_the_centre():
    chart = individuals_chart([0.1, 0.1, 0.1])
    assert (chart.sigma, chart.low, chart.high) == (0, chart.centre, chart.centre)
    assert chart.range_high == 0


@given(READINGS, SHIFTS, SCALES)
def test_individuals_limits_follow_a_change_of_unit(readings, shift, scale):
    here = individuals_chart(readings)
    there = individuals_chart([scale * x + shift for x in readings])
    assert there.low == pytest.approx(scale * here.low + shift, abs=1e-6)
    assert there.high == pytest.approx(scale * here.high + shift, abs=1e-6)
    assert there.sigma == pytest.approx(scale * here.sigma, abs=1e-6)


@given(READINGS)
def test_individuals_limits_are_the_same_read_backwards(readings):
    here, there = individuals_chart(readings), individuals_chart(readings[::-1])
    assert there.moving_ranges == here.moving_ranges[::-1]
    assert there.high == pytest.approx(here.high, abs=1e-9)


def test_ewma_of_the_nist_example():
    # NIST/SEMATECH 6.3.2.4: series printed to 0.01 (recomputed within 0.0048),
    # LCL printed truncated (47.4115 for 47.41157).
    chart = ewma_chart(column("nist_ewma.csv", "x"), target=50, sigma=2.0539)
    printed = column("nist_ewma.csv", "ewma_printed")
    assert chart.averages == pytest.approx(printed, abs=0.005)
    assert chart.high == pytest.approx(52.5884, abs=5e-5)
    assert chart.low == pytest.approx(47.4115, abs=1e-4)
    assert chart.signals == ()


def test_ewma_limits_widen_from_the_first_reading():
    # Computed from the handbook's variance: 51.8485, 52.2564, 52.4314.
    chart = ewma_chart([50.0] * 40, target=50, sigma=2.0539)
    assert chart.highs[:3] == pytest.approx([51.8485, 52.2564, 52.4314], abs=5e-5)
    assert [100 - high for high in chart.highs] == pytest.approx(chart.lows)
    assert chart.highs[-1] == pytest.approx(chart.high, abs=1e-9)
    assert chart.lows[-1] == pytest.approx(chart.low, abs=1e-9)


@pytest.mark.parametrize("weight", [0.05, 0.2, 0.4, 1.0])
def test_ewma_agrees_with_the_recursive_filter_of_scipy(weight):
    kept = 1 - weight
    expected, _ = lfilter([weight], [1, -kept], NORMAL, zi=[kept * 25])
    chart = ewma_chart(NORMAL, target=25, sigma=2, weight=weight)
    assert chart.averages == pytest.approx(expected, rel=1e-12)


def test_ewma_variance_agrees_with_simulated_series():
    # 20 000 series of three readings: standard error of a deviation is 0.5 %.
    drawn = np.random.default_rng(2).normal(0, 1, (20_000, 3)).tolist()
    ends = [ewma_chart(x, target=0, sigma=1).averages[-1] for x in drawn]
    width = ewma_chart([0.0] * 3, target=0, sigma=1).highs[-1]
    assert 3 * np.std(ends) == pytest.approx(width, rel=0.02)


def test_ewma_of_weight_one_is_the_individuals_chart():
    chart = ewma_chart([50.0, 56.0, 56.1, 43.9], target=50, sigma=2, weight=1)
    assert list(chart.averages) == [50.0, 56.0, 56.1, 43.9]
    assert (chart.low, chart.high) == (44, 56)
    assert list(chart.lows) == [44.0] * 4
    assert list(chart.signals) == [2, 3]


def test_ewma_signals_by_the_limit_at_its_own_reading():
    # 1.9 from the target: beyond 1.8485 at the first reading, inside 2.5884 later.
    start = ewma_chart([50 + 1.9 / 0.3], target=50, sigma=2.0539)
    assert start.signals == (0,)
    late = ewma_chart([50.0] * 20 + [50 + 1.9 / 0.3], target=50, sigma=2.0539)
    assert late.signals == ()


def test_ewma_width_is_the_shops_to_set():
    narrow = ewma_chart([50.0], target=50, sigma=2.0539, width=1.5)
    wide = ewma_chart([50.0], target=50, sigma=2.0539)
    assert wide.high - 50 == pytest.approx(2 * (narrow.high - 50))


@given(READINGS, st.floats(0.01, 1), SHIFTS, SCALES)
def test_ewma_follows_a_change_of_unit(readings, weight, shift, scale):
    here = ewma_chart(readings, target=3, sigma=2, weight=weight)
    there = ewma_chart(
        [scale * x + shift for x in readings],
        target=scale * 3 + shift,
        sigma=scale * 2,
        weight=weight,
    )
    moved = [scale * average + shift for average in here.averages]
    assert there.averages == pytest.approx(moved, abs=1e-6)
    assert there.high == pytest.approx(scale * here.high + shift, abs=1e-6)


@given(READINGS, st.floats(0.01, 1))
def test_ewma_lies_between_the_extremes(readings, weight):
    chart = ewma_chart(readings, target=0, sigma=1, weight=weight)
    low, high = min(0, *readings) - 1e-9, max(0, *readings) + 1e-9
    assert all(low <= average <= high for average in chart.averages)


def test_cusum_of_the_nist_example():
    # NIST/SEMATECH 6.3.2.3: target 325, k 0.3175, h 4.1959; S_hi first exceeds h
    # at the 14th reading with 4.94. The S columns were recomputed from its formula.
    name = "nist_cusum.csv"
    chart = cusum_chart(
        column(name, "x"), target=325, slack=0.3175, decision_interval=4.1959
    )
    assert chart.highs == pytest.approx(column(name, "S_hi"), abs=1e-9)
    assert chart.lows == pytest.approx(column(name, "S_lo"), abs=1e-9)
    assert chart.signals == tuple(range(13, 20))
    assert chart.highs[13] == pytest.approx(4.94, abs=0.005)


@given(READINGS)
def test_cusum_is_the_largest_sum_of_the_latest_excesses(readings):
    # Closed form: S_i = max(0, max over j of the sum of excesses from j to i).
    chart = cusum_chart(readings, target=1, slack=0.5, decision_interval=4)
    for sums, sign in ((chart.highs, 1), (chart.lows, -1)):
        excess = np.array([sign * (x - 1) - 0.5 for x in readings])
        expected = [
            max(0, *np.cumsum(excess[i::-1])) if i else max(0, excess[0])
            for i in range(len(readings))
        ]
        assert sums == pytest.approx(expected, abs=1e-9)


@given(READINGS)
def test_cusum_mirrors_about_its_target(readings):
    here = cusum_chart(readings, target=5, slack=0.5, decision_interval=4)
    mirrored = [10 - x for x in readings]
    there = cusum_chart(mirrored, target=5, slack=0.5, decision_interval=4)
    assert there.highs == pytest.approx(here.lows, abs=1e-9)
    assert there.lows == pytest.approx(here.highs, abs=1e-9)


def test_cusum_signals_beyond_the_interval_and_not_on_it():
    on = cusum_chart([4.5], target=0, slack=0.5, decision_interval=4)
    assert (on.highs, on.lows, on.signals) == ((4.0,), (0.0,), ())
    beyond = cusum_chart([-4.75, 0], target=0, slack=0.5, decision_interval=4)
    assert (beyond.lows, beyond.signals) == ((4.25, 3.75), (0,))


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_readings_that_are_not_finite_are_refused(bad):
    sentence = r"^reading (nan|-?inf) is not a finite number"
    with pytest.raises(ValueError, match=sentence):
        individuals_chart([1.0, bad])
    with pytest.raises(ValueError, match=sentence):
        ewma_chart([bad], target=0, sigma=1)
    with pytest.raises(ValueError, match=sentence):
        cusum_chart([bad], target=0, slack=1, decision_interval=1)


def test_too_few_readings_are_refused():
    with pytest.raises(ValueError, match=r"^readings: 1 given, at least 2 needed"):
        individuals_chart([1.0])
    with pytest.raises(ValueError, match=r"^readings: 0 given, at least 1 needed"):
        ewma_chart([], target=0, sigma=1)
    with pytest.raises(ValueError, match=r"^readings: 0 given, at least 1 needed"):
        cusum_chart([], target=0, slack=1, decision_interval=1)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"target": math.nan}, "target nan is not"),
        ({"sigma": 0}, "sigma 0 must be above 0"),
        ({"sigma": -1}, "sigma -1 must be above 0"),
        ({"weight": 0}, "weight 0 must be above 0"),
        ({"weight": -0.001}, "weight -0.001 is outside 0 to 1"),
        ({"weight": 1.001}, "weight 1.001 is outside 0 to 1"),
        ({"width": 0}, "width 0 must be above 0"),
    ],
)
def test_ewma_refuses_settings_out_of_range(change, sentence):
    settings = {"target": 0, "sigma": 1, "weight": 0.3, "width": 3, **change}
    with pytest.raises(ValueError, match=f"^{sentence}"):
        ewma_chart([1.0], **settings)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"target": math.inf}, "target inf is not"),
        ({"slack": 0}, "slack 0 must be above 0"),
        ({"slack": -1}, "slack -1 must be above 0"),
        ({"decision_interval": 0}, "decision interval 0 must be above 0"),
        ({"decision_interval": math.nan}, "decision interval nan is not"),
    ],
)
def test_cusum_refuses_settings_out_of_range(change, sentence):
    settings = {"target": 0, "slack": 1, "decision_interval": 4, **change}
    with pytest.raises(ValueError, match=f"^{sentence}"):
        cusum_chart([1.0], **settings)
