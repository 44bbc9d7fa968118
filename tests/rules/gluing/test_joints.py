import datetime as dt
from decimal import Decimal

import pytest

from records.models import JointSpread
from records.queries.gluing.times import GlueTimes
from records.rules.gluing import joints
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db
Verdict = JointSpread.Verdict
TIMES = GlueTimes(
    working_life_s=3600, open_most_s=600, closed_least_s=300, closed_most_s=3600
)


def at(minute):
    return NOON + dt.timedelta(minutes=minute)


@pytest.fixture
def blank():
    return factories.BlankFactory(revision__laminations=4)


@pytest.fixture
def spread(blank):
    return JointSpread(
        blank=blank,
        joint=1,
        mix=factories.MixFactory(),
        spread_at=at(2),
        closed_at=at(8),
        spread_g=None,
    )


@pytest.mark.parametrize(
    ("opened", "closed", "verdict"),
    [
        (2, 8, Verdict.INSIDE),
        (50, 60, Verdict.INSIDE),
        (49, 60, Verdict.OUTSIDE),
        (55, 61, Verdict.OUTSIDE),
    ],
)
def test_working_life_and_open_time_decide(spread, opened, closed, verdict):
    spread.spread_at, spread.closed_at = at(opened), at(closed)
    judged = joints.judge_times(spread, TIMES)
    assert judged.verdict == verdict
    assert bool(judged.flags) is (verdict == Verdict.OUTSIDE)


def test_too_late_counts_more_than_unknown(spread):
    spread.closed_at = at(70)
    times = GlueTimes(working_life_s=3600, unknown=("Open time not known.",))
    judged = joints.judge_times(spread, times)
    assert judged.verdict == Verdict.OUTSIDE
    assert judged.flags[-1] == "Open time not known."


def test_without_a_working_life_nobody_knows(spread):
    assert joints.judge_times(spread, GlueTimes()).verdict == Verdict.UNKNOWN


@pytest.mark.parametrize(
    ("pressed", "verdict"),
    [
        (12, Verdict.OUTSIDE),  # 4 of at least 5 minutes
        (13, Verdict.INSIDE),
        (32, Verdict.INSIDE),  # 6 of 10 minutes open leave 24 of 60 closed
        (33, Verdict.OUTSIDE),
        (None, Verdict.OUTSIDE),
    ],
)
def test_closed_time_counts_from_the_joint_to_the_press(spread, pressed, verdict):
    moment = None if pressed is None else at(pressed)
    assert joints.judge_closed_time(spread, TIMES, moment).verdict == verdict


def test_without_closed_times_nobody_knows(spread):
    judged = joints.judge_closed_time(spread, GlueTimes(), at(500))
    assert judged.verdict == Verdict.UNKNOWN


def test_a_joint_written_late_is_held_against_the_next_pressing(spread):
    judged = joints.judge_times(spread, TIMES, [at(300), at(20), at(1)])
    assert judged.verdict == Verdict.INSIDE


@pytest.mark.parametrize(("grams", "findings"), [(59, 1), (60, 0), (87.5, 0), (88, 1)])
def test_glue_on_a_joint_is_held_against_the_sheet(spread, grams, findings):
    # 240 to 350 g/m2 on 0.25 m2.
    rows = joints.spread_is_enough(spread, grams, 250_000)
    assert len(rows) == findings


def test_a_mix_gives_no_more_than_was_mixed(spread):
    spread.mix.resin_g, spread.mix.hardener_g = Decimal(500), Decimal(100)
    assert joints.mix_is_enough(spread.mix, 600) == []
    assert "601\xa0g" in joints.mix_is_enough(spread.mix, 601)[0]


def test_everything_impossible_is_said_at_once(spread):
    spread.joint, spread.spread_at, spread.closed_at = 9, at(-5), at(-6)
    findings = joints.joint_is_possible(spread, [], at(10))
    assert [f.field for f in findings] == ["joint", "spread_at", "closed_at"]


def test_the_same_mix_on_the_other_face_is_another_line(spread):
    other = JointSpread(pk=1, joint=1, mix=spread.mix, side="lower", closed_at=at(5))
    spread.side = "upper"
    assert joints.joint_is_possible(spread, [other], at(10)) == []
    spread.side = "lower"
    assert len(joints.joint_is_possible(spread, [other], at(10))) == 1
