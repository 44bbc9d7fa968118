"""Actions: by whom, by when, done, and whether they worked (ISO 9001, 10.2)."""

import datetime as dt

import pytest

from records.models import CorrectiveAction, EffectivenessCheck
from records.services.deviations.actions import (
    add_action,
    check_effectiveness,
    finish_action,
)
from records.services.refusal import Refusal
from tests import factories

pytestmark = pytest.mark.django_db
DAY = dt.timedelta(days=1)


@pytest.fixture
def deviation(shop):
    return factories.DeviationFactory(number="D0004")


def added(act, deviation, **kwargs):
    today = act.at.date()
    words = {
        "what": "Mark the pointer's place.",
        "owner": act.by,
        "due_on": today + DAY,
        "look_on": today + 90 * DAY,
    }
    return add_action(act=act, deviation=deviation, **words | kwargs)


def test_action_is_kept_with_owner_and_days(act, deviation):
    action = added(act, deviation)
    assert (action.owner, action.done_on) == (act.by, None)
    assert list(deviation.actions.all()) == [action]


def test_everything_wrong_is_said_at_its_field(act, deviation):
    gone = factories.PersonFactory(is_active=False)
    yesterday = act.at.date() - DAY
    with pytest.raises(Refusal) as refusal:
        added(
            act,
            deviation,
            what=" ",
            owner=gone,
            due_on=yesterday,
            look_on=yesterday - DAY,
        )
    fields = [f.field for f in refusal.value.findings]
    assert fields == ["what", "owner", "due_on", "look_on"]
    assert not CorrectiveAction.objects.exists()


def test_closed_deviation_takes_no_action(act):
    closed = factories.DeviationFactory(number="D0009", state="closed")
    with pytest.raises(Refusal, match="D0009 is closed"):
        added(act, closed)


def test_done_once_and_not_in_the_future(act, deviation):
    action = added(act, deviation)
    today = act.at.date()
    with pytest.raises(Refusal, match="still to come"):
        finish_action(act=act, action=action, done_on=today + DAY)
    finish_action(act=act, action=action, done_on=today)
    with pytest.raises(Refusal, match="noted as done"):
        finish_action(act=act, action=action, done_on=today)
    action.refresh_from_db()
    assert action.done_on == today


def checked(act, action, **kwargs):
    words = {"effective": True, "evidence": "Twelve since, none out."}
    words["happened_at"] = act.at
    return check_effectiveness(act=act, action=action, **words | kwargs)


def test_effect_is_judged_after_it_is_done_with_evidence(act, deviation):
    action = added(act, deviation)
    with pytest.raises(Refusal) as refusal:
        checked(act, action, evidence=" ")
    assert [f.sentence for f in refusal.value.findings] == [
        "The action is not done yet. Note it as done, then look.",
        "Say what shows it: the evidence.",
    ]
    finish_action(act=act, action=action, done_on=act.at.date())
    assert checked(act, action) == EffectivenessCheck.objects.get()


def test_effect_may_be_looked_at_after_the_deviation_closed(act):
    closed = factories.DeviationFactory(state="closed")
    action = factories.CorrectiveActionFactory(
        deviation=closed, done_on=dt.date(2026, 3, 4)
    )
    assert checked(act, action, effective=False).effective is False
