"""Mixes for a stack, none of them past its working life."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.gluing_plan import joints_within_life, plan_mixes

FIFTEEN_MINUTES = 900


def plan(joints, **changes):
    figures = {
        "spread_g_m2": 300,
        "working_life_s": FIFTEEN_MINUTES,
        "joint_time_s": 180,
    }
    return plan_mixes(0.25, joints, **(figures | changes))


def test_fifteen_minutes_take_five_joints_of_three():
    # Common practice, no source: a mix with 15 minutes of working life. The fifth
    # joint closes exactly at its end, which is within.
    assert joints_within_life(FIFTEEN_MINUTES, 180) == 5
    assert joints_within_life(FIFTEEN_MINUTES, 180.001) == 4
    assert joints_within_life(FIFTEEN_MINUTES, 180, preparation_s=0.001) == 4


def test_a_decimal_quotient_is_not_lost_to_binary():
    assert 0.6 / 0.2 < 3
    assert joints_within_life(0.6, 0.2) == 3


def test_one_joint_is_the_least():
    assert joints_within_life(180, 180) == 1
    with pytest.raises(
        ValueError,
        match=r"^a joint of 180 s does not fit in the 179 s of working life; take",
    ):
        joints_within_life(179, 180)
    with pytest.raises(ValueError, match=r"does not fit in the -100 s"):
        joints_within_life(100, 10, preparation_s=200)


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ((0, 180), "^working life 0 s must be above 0 s$"),
        ((900, 0), "^time for a joint 0 s must be above 0 s$"),
        ((900, 180, -1), "^preparation time -1 s must not be negative$"),
        ((math.nan, 180), "^working life nan is not a finite number"),
        ((math.inf, 180), "^working life inf is not a finite number"),
    ],
)
def test_impossible_times_are_refused(arguments, why):
    with pytest.raises(ValueError, match=why):
        joints_within_life(*arguments)


def test_a_small_stack_needs_one_mix():
    one = plan(5)
    assert (one.joints_per_mix, one.joints_by_mix) == (5, (5,))
    assert one.mass_by_mix_g == (pytest.approx(5 * 0.25 * 300),)
    assert one.stack_time_s == FIFTEEN_MINUTES


def test_a_stack_that_needs_more_than_one_mix():
    # Common practice, no source: the second mix is made half-way, not for one joint.
    two = plan(6)
    assert two.joints_by_mix == (3, 3)
    assert plan(7).joints_by_mix == (4, 3)
    assert plan(11).joints_by_mix == (4, 4, 3)


def test_preparation_shortens_each_mix_and_lengthens_the_stack():
    slow = plan(6, preparation_s=240)
    assert slow.joints_per_mix == 3
    assert slow.stack_time_s == 6 * 180 + 2 * 240


def test_reserve_is_weighed_in():
    assert sum(plan(7, reserve_pct=10).mass_by_mix_g) == pytest.approx(
        1.1 * sum(plan(7).mass_by_mix_g)
    )
    assert sum(plan(7, reserve_pct=100).mass_by_mix_g) == pytest.approx(
        2 * 7 * 0.25 * 300
    )


@given(st.integers(1, 60), st.floats(10, 3600), st.floats(10, 900))
def test_every_plan_is_whole_even_and_in_time(joints, life, each):
    if life < each:
        return
    result = plan(joints, working_life_s=life, joint_time_s=each)
    assert sum(result.joints_by_mix) == joints
    assert max(result.joints_by_mix) - min(result.joints_by_mix) <= 1
    assert max(result.joints_by_mix) <= result.joints_per_mix
    assert max(result.joints_by_mix) * each <= life * (1 + 1e-12)
    assert sum(result.mass_by_mix_g) == pytest.approx(joints * 0.25 * 300)
    assert (len(result.joints_by_mix) - 1) * result.joints_per_mix < joints


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"spread_g_m2": 0}, "^spread 0 g/m2 must be above 0 g/m2$"),
        ({"reserve_pct": -0.1}, r"^reserve -0\.1 % is outside 0 to 100 %$"),
        ({"reserve_pct": 100.1}, r"^reserve 100\.1 % is outside 0 to 100 %$"),
        ({"working_life_s": 100}, "does not fit"),
    ],
)
def test_impossible_plans_are_refused(changes, why):
    with pytest.raises(ValueError, match=why):
        plan(7, **changes)


def test_a_stack_has_a_joint():
    with pytest.raises(ValueError, match=r"^number of joints 0 is outside 1 to 1000$"):
        plan(0)
