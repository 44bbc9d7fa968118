"""What a deviation needs, in sentences at the fields."""

import datetime as dt

import pytest

from records.queries.deviations.register import subjects_of
from records.rules.deviations.opening import (
    Touched,
    action_may_be_added,
    cause_is_said,
    deviation_may_close,
    deviation_may_open,
    joint_is_in,
    subject_called,
    things_are_named,
)
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


def test_whole_deviation_has_no_findings():
    things = [Touched(factories.stacked_blank(3), joint=2)]
    findings = deviation_may_open(
        things,
        title="Late",
        required="60 min",
        found="71 min",
        happened_at=NOON,
        now=NOON,
    )
    assert findings == []


@pytest.mark.parametrize(("joint", "findings"), [(1, 0), (2, 0), (3, 1), (None, 0)])
def test_blank_of_three_laminations_has_two_joints(joint, findings):
    assert len(joint_is_in(factories.stacked_blank(3), joint)) == findings


def test_two_joints_of_one_blank_are_two_things():
    blank = factories.stacked_blank(3)
    assert things_are_named([Touched(blank, 1), Touched(blank, 2)]) == []
    assert len(things_are_named([Touched(blank, 1), Touched(blank, 1)])) == 1


@pytest.mark.parametrize(
    ("kind", "cause", "fields"),
    [
        ("room", "heater off", []),
        ("", "heater off", ["cause_kind"]),
        ("weather", "heater off", ["cause_kind"]),
        ("room", " ", ["cause"]),
    ],
)
def test_cause_has_a_place_and_words(kind, cause, fields):
    assert [f.field for f in cause_is_said(kind, cause)] == fields


def test_action_due_today_is_taken():
    day = dt.date(2026, 3, 2)
    owner = factories.PersonFactory()
    assert action_may_be_added("Mark it", owner, day, day, day) == []


def test_closed_deviation_cannot_close_again():
    closed = factories.DeviationFactory(number="D0009", state="closed")
    assert [f.sentence for f in deviation_may_close(closed)] == [
        "Deviation D0009 is closed. Open a new one, and name D0009 in it."
    ]


def test_subject_is_called_with_its_joint():
    blank = factories.BlankFactory(number="K0012")
    row = factories.DeviationSubjectFactory(blank=blank, joint=3)
    (subject,) = subjects_of(row.deviation)
    assert subject_called(subject) == "joint 3 of blank K0012"
