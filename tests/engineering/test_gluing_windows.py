"""A joint against the clock."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.gluing_windows import (
    GlueLimits,
    JointTimes,
    Timing,
    judge_joint,
    judge_window,
)

# Resorcinol at 70 degF: working life 3.75 h, open at most 10 min, closed at most 60
# min (bulletin reprinted in the Falco manual, App. D, seen). The least times are made
# up: that bulletin has none.
LIMITS = GlueLimits(13500, 600, 3600, open_minimum_s=60, closed_minimum_s=120)
MIXED = JointTimes(mixed_s=1000, spread_s=1300)
CLOSED = replace(MIXED, closed_s=1700)
PRESSED = replace(CLOSED, pressed_s=3500)


@pytest.mark.parametrize(
    ("elapsed", "timing", "to_wait", "remaining"),
    [
        (0, Timing.TOO_SOON, 60, 600),
        (59.999, Timing.TOO_SOON, 0.001, 540.001),
        (60, Timing.WITHIN, 0, 540),
        (600, Timing.WITHIN, 0, 0),
        (600.001, Timing.TOO_LATE, 0, -0.001),
        (700, Timing.TOO_LATE, 0, -100),
    ],
)
def test_both_ends_of_a_window(elapsed, timing, to_wait, remaining):
    state = judge_window(elapsed, 60, 600)
    assert state.timing is timing
    assert state.elapsed_s == elapsed
    assert state.until_minimum_s == pytest.approx(to_wait)
    assert state.remaining_s == pytest.approx(remaining)


def test_a_sheet_without_a_longest_time_never_says_too_late():
    state = judge_window(1e9, 60, None)
    assert (state.timing, state.remaining_s) == (Timing.WITHIN, None)
    assert judge_window(59, 60, None).timing is Timing.TOO_SOON


def test_a_window_of_no_length_has_one_right_moment():
    assert judge_window(60, 60, 60).timing is Timing.WITHIN
    assert judge_window(0, 0, 0).timing is Timing.WITHIN


@given(st.floats(0, 1e5), st.floats(0, 1e4), st.floats(0, 1e4), st.floats(0.01, 100))
def test_the_unit_of_time_does_not_matter(elapsed, shortest, length, factor):
    longest = shortest + length
    state = judge_window(elapsed, shortest, longest)
    scaled = judge_window(elapsed * factor, shortest * factor, longest * factor)
    assert scaled.remaining_s == pytest.approx(state.remaining_s * factor, abs=1e-3)
    if min(abs(elapsed - shortest), abs(elapsed - longest)) > 1e-6:
        assert scaled.timing is state.timing


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ((-1, 60, 600), "^elapsed time -1 s must not be negative$"),
        ((10, -1, 600), "^shortest time -1 s must not be negative$"),
        ((10, 60, 59), "^longest time 59 s is below the shortest time 60 s; check the"),
        ((math.nan, 60, 600), "^elapsed time nan is not a finite number"),
        ((10, 60, math.nan), "^longest time nan is not a finite number"),
        ((10, 60, math.inf), "^longest time inf is not a finite number"),
    ],
)
def test_impossible_windows_are_refused(arguments, why):
    with pytest.raises(ValueError, match=why):
        judge_window(*arguments)


def test_an_open_joint_runs_against_working_life_and_open_time():
    state = judge_joint(MIXED, LIMITS, now_s=1500)
    assert state.working_life.elapsed_s == 500
    assert state.working_life.remaining_s == 13000
    assert state.open_assembly.elapsed_s == 200
    assert state.open_assembly.remaining_s == 400
    assert state.closed_assembly is None


def test_closing_stops_working_life_and_open_time():
    state = judge_joint(CLOSED, LIMITS, now_s=9000)
    assert state.working_life.elapsed_s == 700
    assert state.open_assembly.elapsed_s == 400
    assert state.closed_assembly.elapsed_s == 7300
    assert state.closed_assembly.timing is Timing.TOO_LATE


def test_pressure_stops_closed_time():
    state = judge_joint(PRESSED, LIMITS, now_s=99999)
    assert state.closed_assembly.elapsed_s == 1800
    assert state.closed_assembly.remaining_s == 1800
    assert state.closed_assembly.timing is Timing.WITHIN


def test_closing_and_pressing_at_once_is_too_soon_where_the_sheet_has_a_least_time():
    at_once = JointTimes(0, 100, 100, 100)
    state = judge_joint(at_once, LIMITS, now_s=100)
    assert state.open_assembly.timing is Timing.TOO_SOON
    assert state.closed_assembly.timing is Timing.TOO_SOON
    assert state.closed_assembly.until_minimum_s == 120
    free = judge_joint(at_once, GlueLimits(13500, 600, 3600), now_s=100)
    assert free.closed_assembly.timing is Timing.WITHIN


def test_working_life_ends_before_a_slow_joint_is_closed():
    state = judge_joint(JointTimes(0, 600), replace(LIMITS, working_life_s=900), 901)
    assert state.working_life.timing is Timing.TOO_LATE
    assert state.working_life.remaining_s == -1
    assert state.open_assembly.timing is Timing.WITHIN


def test_a_sheet_may_give_no_longest_times():
    state = judge_joint(PRESSED, GlueLimits(None, None, None), now_s=4000)
    windows = (state.working_life, state.open_assembly, state.closed_assembly)
    assert all(window.timing is Timing.WITHIN for window in windows)
    assert all(window.remaining_s is None for window in windows)


@given(st.floats(-1e6, 2e9))
def test_the_zero_of_the_clock_does_not_matter(shift):
    shift = float(round(shift))
    moved = JointTimes(*(at + shift for at in (1000, 1300, 1700, 3500)))
    assert judge_joint(moved, LIMITS, 4000 + shift) == judge_joint(
        PRESSED, LIMITS, 4000
    )


@pytest.mark.parametrize(
    ("times", "now", "why"),
    [
        (
            JointTimes(10, 9),
            20,
            r"^glue was spread \(9 s\) comes before the mix was ma",
        ),
        (
            JointTimes(0, 9, 8),
            20,
            r"^the joint was closed \(8 s\) comes before glue wa",
        ),
        (JointTimes(0, 1, 8, 7), 20, r"^pressure came on \(7 s\) comes before the joi"),
        (JointTimes(0, 1, 8, 9), 8.5, r"^now \(8\.5 s\) comes before pressure came on"),
        (
            JointTimes(0, 5),
            4,
            r"^now \(4 s\) comes before glue was spread \(5 s\); che",
        ),
        (JointTimes(0, 1, None, 9), 20, "^pressure is on a joint that was not closed"),
        (JointTimes(math.nan, 1), 20, "^the mix was made nan is not a finite number"),
    ],
)
def test_steps_out_of_order_are_refused(times, now, why):
    with pytest.raises(ValueError, match=why):
        judge_joint(times, LIMITS, now)


def test_a_joint_closed_as_soon_as_its_mix_is_made_is_within_the_working_life():
    state = judge_joint(JointTimes(0, 0, 0), LIMITS, now_s=0)
    assert state.working_life.timing is Timing.WITHIN
    assert state.working_life.until_minimum_s == 0
