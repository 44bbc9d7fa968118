"""Cure adds up over a logged temperature, and is never overstated.

Closed forms: at a constant temperature the fraction is time over press time; with
steps it is the sum of such parts.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering import curing
from records.engineering.curing import Cure, cure, forecast_opening, opening_time
from records.engineering.gluing_times import interpolate_time

# Clamp times of a urea glue, hardener GBQ.X, at 15 to 30 degC: bulletin reprinted in
# the Falco manual, App. D, rev. 4 (seen).
HOURS = {15: 2.75, 20: 1.75, 25: 1.25, 30: 1.0}
TABLE = [(float(at), hours * 3600) for at, hours in HOURS.items()]
INSIDE = st.floats(min_value=15, max_value=30)
SPANS = st.lists(st.tuples(st.floats(1, 5000), INSIDE), min_size=1, max_size=12)


def stepped(spans):
    """Two samples for each span, so that its temperature is known throughout."""
    history, clock = [], 0.0
    for duration, celsius in spans:
        history += [(clock, celsius), (clock + duration, celsius)]
        clock += duration
    return history


@given(INSIDE, st.floats(1, 1e6), st.integers(2, 60))
def test_constant_temperature_has_a_closed_form(celsius, duration, samples):
    history = [(duration * n / (samples - 1), celsius) for n in range(samples)]
    expected = duration / interpolate_time(TABLE, celsius)
    result = cure(history, TABLE)
    assert result.fraction == pytest.approx(expected, rel=1e-9)
    assert result.counted_s == pytest.approx(duration)


@given(SPANS)
def test_stepped_temperature_has_a_closed_form(spans):
    expected = sum(
        duration / interpolate_time(TABLE, celsius) for duration, celsius in spans
    )
    assert cure(stepped(spans), TABLE).fraction == pytest.approx(expected, rel=1e-9)


def test_a_printed_row_takes_its_printed_time():
    for celsius, seconds in TABLE:
        whole = [(0, celsius), (seconds, celsius)]
        assert cure(whole, TABLE) == Cure(1.0, seconds, 0.0, 0.0)
        assert opening_time(whole, TABLE) == seconds


def test_half_at_twenty_and_half_at_twenty_five_degrees():
    history = stepped([(0.5 * 1.75 * 3600, 20), (0.5 * 1.25 * 3600, 25)])
    assert cure(history, TABLE).fraction == pytest.approx(1, abs=1e-9)
    assert opening_time(history, TABLE) == pytest.approx(1.5 * 3600, abs=1e-9)


@given(SPANS, SPANS)
def test_parts_of_a_history_add_up(first, second):
    whole = cure(stepped(first + second), TABLE).fraction
    parts = sum(cure(stepped(spans), TABLE).fraction for spans in (first, second))
    assert whole == pytest.approx(parts, rel=1e-9)


@given(SPANS, st.floats(0.01, 100))
def test_the_unit_of_time_does_not_matter(spans, factor):
    scaled_table = [(at, time * factor) for at, time in TABLE]
    scaled = [(duration * factor, celsius) for duration, celsius in spans]
    assert cure(stepped(scaled), scaled_table).fraction == pytest.approx(
        cure(stepped(spans), TABLE).fraction, rel=1e-9
    )


@given(INSIDE, INSIDE)
def test_between_samples_the_colder_is_taken(first, second):
    for pair in ((first, second), (second, first)):
        history = list(zip((0, 600), pair, strict=True))
        expected = 600 / interpolate_time(TABLE, min(pair))
        assert cure(history, TABLE).fraction == pytest.approx(expected, rel=1e-9)


@given(SPANS, st.data())
def test_a_dip_never_helps(spans, data):
    number = data.draw(st.integers(0, len(spans) - 1))
    duration, celsius = spans[number]
    cooled = [*spans]
    cooled[number] = (duration, data.draw(st.floats(5, celsius)))
    assert cure(stepped(cooled), TABLE).fraction <= cure(
        stepped(spans), TABLE
    ).fraction * (1 + 1e-12)


def test_a_power_cut_into_the_cold_counts_nothing_and_says_so():
    hour = 3600.0
    history = stepped([(hour, 20), (8 * hour, 12), (hour, 20), (hour, 33)])
    result = cure(history, TABLE)
    assert result.fraction == pytest.approx(2 / 1.75, rel=1e-9)
    assert (result.counted_s, result.too_cold_s, result.too_hot_s) == (
        2 * hour,
        8 * hour,
        hour,
    )
    # 0.75 h were missing when the heat came back at 9 h.
    assert opening_time(history, TABLE) == pytest.approx(9.75 * hour)
    (dip,) = curing.dips(history, 15)
    assert (dip.start_s, dip.end_s, dip.lowest) == (hour, 9 * hour, 12)


@pytest.mark.parametrize("edge", [15, 30])
def test_the_ends_of_the_table_count(edge):
    assert cure([(0, edge), (600, edge)], TABLE).counted_s == 600


@pytest.mark.parametrize(
    ("past", "field"),
    [(math.nextafter(15, 0), "too_cold_s"), (math.nextafter(30, 40), "too_hot_s")],
)
def test_one_step_past_the_ends_does_not(past, field):
    result = cure([(0, past), (600, past)], TABLE)
    assert getattr(result, field) == 600
    assert (result.fraction, result.counted_s) == (0, 0)


def test_a_single_sample_has_cured_nothing():
    assert cure([(0, 20)], TABLE) == Cure(0.0, 0.0, 0.0, 0.0)
    assert opening_time([(0, 20)], TABLE) is None


def test_many_samples_still_open_at_the_printed_time():
    history = [(60.0 * minute, 20) for minute in range(106)]
    assert opening_time(history, TABLE) == pytest.approx(6300, abs=1e-5)


def test_a_second_too_early_is_too_early():
    assert opening_time([(0, 20), (6299, 20)], TABLE) is None


def test_laminating_takes_double_the_time():
    # The bulletin asks at least double the clamp time for laminating (seen).
    history = [(100, 20), (20000, 20)]
    assert opening_time(history, TABLE) == pytest.approx(100 + 6300)
    assert opening_time(history, TABLE, 2) == pytest.approx(100 + 12600)


@given(SPANS, st.floats(0.05, 3))
def test_at_the_opening_time_just_that_much_has_cured(spans, required):
    history = stepped(spans)
    opened = opening_time(history, TABLE, required)
    if opened is None:
        assert cure(history, TABLE).fraction < required
    else:
        inside = [sample for sample in history if sample[0] <= opened]
        reached = cure([*inside, (opened, inside[-1][1])], TABLE).fraction
        assert reached == pytest.approx(required, abs=1e-6)


@given(SPANS, INSIDE, st.floats(0.05, 50))
def test_a_forecast_comes_true(spans, celsius, required):
    history = stepped(spans)
    opens = forecast_opening(history, TABLE, celsius, required)
    last = history[-1][0]
    later = [*history, (last, celsius), (max(opens, last) + 1, celsius)]
    assert opening_time(later, TABLE, required) == pytest.approx(opens, rel=1e-6)


def test_a_forecast_of_what_is_reached_lies_in_the_past():
    history = [(0, 20), (9000, 20)]
    assert forecast_opening(history, TABLE, 30) == 6300


@pytest.mark.parametrize("function", [cure, opening_time])
@pytest.mark.parametrize(
    ("history", "table", "why"),
    [
        ([], TABLE, r"^samples of temperature: 0 given, at least 1 needed$"),
        ([(5, 20), (4, 20)], TABLE, r"^sample 2 of temperature at 4 s is earlier"),
        ([(0, math.nan)], TABLE, r"^temperature nan is not a finite number"),
        ([(0, 20)], [], r"^rows in the table of press times: 0 given, at least 1 ne"),
        ([(0, 20)], [(20, 0)], r"^press time in the table 0 s must be above 0 s$"),
        ([(0, 20)], TABLE[::-1], r"^temperature in the table must rise: 25 degC foll"),
    ],
)
def test_bad_histories_and_tables_are_refused(function, history, table, why):
    with pytest.raises(ValueError, match=why):
        function(history, table)


@pytest.mark.parametrize("required", [0, -1, math.nan])
def test_the_required_fraction_is_above_zero(required):
    sentence = r"^required fraction of cure .*(must be above 0|enter a value)$"
    with pytest.raises(ValueError, match=sentence):
        opening_time([(0, 20)], TABLE, required)
    with pytest.raises(ValueError, match=sentence):
        forecast_opening([(0, 20)], TABLE, 20, required)


@pytest.mark.parametrize("celsius", [14.9, 30.1])
def test_nothing_is_forecast_outside_the_table(celsius):
    with pytest.raises(
        ValueError, match=rf"^temperature {celsius} degC is outside 15 to 30 degC$"
    ):
        forecast_opening([(0, 20)], TABLE, celsius)


def test_times_out_of_the_table_add_up():
    history = stepped([(10, 40), (20, 20), (30, 40), (40, 5), (50, 20), (60, 5)])
    result = cure(history, TABLE)
    assert (result.too_hot_s, result.counted_s, result.too_cold_s) == (40, 70, 100)


def test_a_sheet_with_one_press_time_counts_only_at_its_temperature():
    history = stepped([(600, 20), (600, 21), (300, 20)])
    assert cure(history, [(20, 1800)]) == Cure(0.5, 900, 0.0, 600)
    assert opening_time(history, [(20, 1800)], 0.5) == pytest.approx(1500)
