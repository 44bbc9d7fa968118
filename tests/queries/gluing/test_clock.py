import datetime as dt

import pytest

from records.queries.gluing.clock import Standing, deadline, glue_clock
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


def minutes(number):
    return NOON + dt.timedelta(minutes=number)


@pytest.fixture
def blank():
    return factories.stacked_blank(4, state="gluing")


@pytest.mark.parametrize(
    ("now", "standing", "left"),
    [
        (0, Standing.IN_TIME, 6000),
        (79, Standing.IN_TIME, 1260),
        (80, Standing.SOON, 1200),
        (100, Standing.SOON, 0),
        (101, Standing.OVER, -60),
    ],
)
def test_a_limit_is_near_before_it_is_passed(now, standing, left):
    result = deadline(NOON, 6000, minutes(now))
    assert (result.standing, result.left_s) == (standing, left)
    assert result.at == minutes(100)


def test_two_minutes_are_near_whatever_the_limit():
    assert deadline(NOON, 300, minutes(3)).standing is Standing.SOON
    assert deadline(NOON, 300, minutes(2)).standing is Standing.IN_TIME


def test_without_a_limit_nobody_knows():
    assert deadline(NOON, None, NOON).standing is Standing.UNKNOWN


def test_each_mix_has_its_life(blank):
    warm = factories.MixFactory(temperature_c=30)
    cold = factories.MixFactory(temperature_c=10)
    result = {m.mix: m for m in glue_clock(blank, minutes(60)).mixes}
    assert result[warm].life.at == minutes(90)
    assert result[cold].life.standing is Standing.UNKNOWN
    assert "not known" in result[cold].times.unknown[0]


def test_the_newest_mix_that_still_works_is_in_hand(blank):
    first = factories.MixFactory(mixed_at=NOON)
    second = factories.MixFactory(mixed_at=minutes(200))
    clock = glue_clock(blank, minutes(210))
    assert clock.in_hand.mix == second
    over = glue_clock(blank, minutes(500))
    assert over.in_hand.mix == second
    assert {m.mix for m in over.mixes} == {first, second}


def test_a_mix_that_is_in_another_stack_is_not_taken_for_this_one(blank):
    other = factories.MixFactory(mixed_at=minutes(5))
    factories.JointSpreadFactory(mix=other)
    assert glue_clock(blank, minutes(9)).in_hand is None
    fresh = factories.MixFactory(mixed_at=NOON)
    assert glue_clock(blank, minutes(9)).in_hand.mix == fresh
    factories.JointSpreadFactory(mix=other, blank=blank)
    assert glue_clock(blank, minutes(9)).in_hand.mix == other


def test_without_a_mix_nothing_is_in_hand(blank):
    clock = glue_clock(blank, NOON)
    assert clock.in_hand is None
    assert clock.next_joint == 1
    assert clock.press_by.at is None
    assert clock.last_closed_at is None


def test_the_next_joint_is_the_lowest_that_is_not_closed(blank):
    mix = factories.MixFactory()
    factories.JointSpreadFactory(blank=blank, joint=2, mix=mix)
    factories.JointSpreadFactory(blank=blank, joint=1, mix=mix, side="lower")
    assert glue_clock(blank, minutes(9)).next_joint == 1
    factories.JointSpreadFactory(blank=blank, joint=1, mix=mix, side="upper")
    assert glue_clock(blank, minutes(9)).next_joint == 3
    factories.JointSpreadFactory(blank=blank, joint=3, mix=mix)
    assert glue_clock(blank, minutes(9)).next_joint is None


def test_pressure_is_wanted_by_the_joint_that_can_wait_least(blank):
    # 6 of 10 min open leave 24 of 60 min closed; 2 of 10 leave 48.
    mix = factories.MixFactory()
    factories.JointSpreadFactory(
        blank=blank, joint=1, mix=mix, spread_at=minutes(2), closed_at=minutes(8)
    )
    factories.JointSpreadFactory(
        blank=blank, joint=2, mix=mix, spread_at=minutes(9), closed_at=minutes(11)
    )
    clock = glue_clock(blank, minutes(12))
    assert clock.press_by.at == minutes(8 + 24)
    assert clock.joints[1].press_by.at == minutes(11 + 48)
    assert clock.press_from == minutes(11 + 5)
    assert clock.last_closed_at == minutes(11)


def test_the_clock_takes_three_queries_however_many_joints(
    blank, django_assert_num_queries
):
    for joint in (1, 2, 3):
        factories.JointSpreadFactory(blank=blank, joint=joint)
    with django_assert_num_queries(3):
        glue_clock(blank, minutes(9))
