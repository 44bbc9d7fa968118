"""When a record may be issued or withdrawn."""

import datetime as dt

import pytest

from records.models import Propeller
from records.rules.gates.issue import record_may_be_issued, record_may_be_withdrawn
from tests import factories, finished

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made
NOON = factories.NOON


def findings(made, state="released", **changes):
    Propeller.objects.filter(pk=made.propeller.pk).update(state=state)
    propeller = Propeller.objects.with_related().get(pk=made.propeller.pk)
    given = {"reason": "", "place": "Millbrook", "sealable": True} | changes
    reason = given.pop("reason")
    findings = record_may_be_issued(propeller, reason, **given)
    return [(f.field, f.sentence) for f in findings]


@pytest.mark.parametrize("state", ["released", "delivered"])
def test_nothing_speaks_against_what_is_released(made, state):
    assert findings(made, state) == []


@pytest.mark.parametrize("state", ["in_work", "returned", "retired", "scrapped"])
def test_only_what_is_released_gets_a_record(made, state):
    ((_, sentence),) = findings(made, state)
    assert sentence.endswith("release it first.")


def test_place_keys_and_reason_are_asked_for_at_once(made):
    factories.ConformityRecordFactory(propeller=made.propeller, number="CR9")
    fields = dict(findings(made, place=" ", sealable=False))
    assert "It replaces CR9." in fields["reason"]
    assert "place" in fields
    assert "manage.py new_keys" in fields[""]


def test_an_open_deviation_stops_a_delivered_one_too(made):
    deviation = factories.DeviationFactory(number="D0009")
    factories.DeviationSubjectFactory(deviation=deviation, propeller=made.propeller)
    ((_, sentence),) = findings(made, "delivered")
    assert "D0009 is open" in sentence


def test_a_record_is_not_withdrawn_before_it_was_issued_or_in_time_to_come(shop):
    record = factories.ConformityRecordFactory(issued_at=NOON, propeller__serial="A-1")
    hour = dt.timedelta(hours=1)
    now = NOON + hour

    def fields(reason, at):
        findings = record_may_be_withdrawn(record, reason, at, now)
        return [f.field for f in findings]

    assert fields("wrong", NOON) == []
    assert fields("wrong", NOON - hour) == ["happened_at"]
    assert fields("", now + hour) == ["happened_at", "reason"]


def test_a_record_issued_this_very_minute_can_be_withdrawn(shop):
    at = NOON + dt.timedelta(seconds=40)
    record = factories.ConformityRecordFactory(issued_at=at, propeller__serial="A-1")
    assert record_may_be_withdrawn(record, "wrong", NOON, at) == []
