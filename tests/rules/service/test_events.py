"""What can't be true of a handing over, an event, a notice."""

import datetime as dt

import pytest

from records.models import NoticeStep, Ownership, Propeller, ServiceEvent
from records.rules.service.events import (
    HAPPENS_IN,
    event_is_possible,
    handed_over_in_order,
    may_be_handed_over,
    may_change_owner,
    notice_is_whole,
    step_may_follow,
)
from tests import factories

NOON = factories.NOON
HOUR = dt.timedelta(hours=1)


def propeller(state):
    return Propeller(serial="2026-001", state=state)


@pytest.mark.parametrize("kind", ServiceEvent.Kind.values)
@pytest.mark.parametrize("state", Propeller.State.values)
def test_each_event_happens_in_its_states_only(kind, state):
    findings = event_is_possible(
        propeller(state),
        kind,
        happened_at=NOON,
        findings="x",
        now=NOON,
        since=None,
    )
    assert bool(findings) == (state not in HAPPENS_IN[kind])


@pytest.mark.parametrize("state", [s for s in Propeller.State if s != "released"])
def test_only_what_is_released_goes_out(state):
    (finding,) = may_be_handed_over(propeller(state), None, None)
    assert "only a released one goes" in finding.sentence


def test_an_owner_is_changed_only_where_there_is_one():
    before = Ownership(happened_at=NOON)
    assert may_change_owner(propeller("delivered"), before) == []
    assert may_change_owner(propeller("delivered"), None)
    assert may_change_owner(propeller("in_work"), before)


def test_a_handing_over_follows_the_one_before():
    before = Ownership(happened_at=NOON)
    assert handed_over_in_order(NOON, before, NOON) == []
    (early,) = handed_over_in_order(NOON - HOUR, before, NOON)
    assert early.field == "happened_at"


def test_a_notice_needs_title_words_and_serials():
    assert notice_is_whole("T", "x", [propeller("delivered")]) == []
    fields = [f.field for f in notice_is_whole(" ", " ", [])]
    assert fields == ["title", "text", "serials"]


def test_nothing_follows_on_done():
    done = [NoticeStep(kind="done")]
    findings = step_may_follow("sent", done, NOON, issued_at=NOON, now=NOON)
    assert [f.sentence for f in findings] == [
        "What the notice asks is done for this serial already."
    ]
    assert step_may_follow("sent", [], NOON, issued_at=NOON, now=NOON) == []
    early = step_may_follow("sent", [], NOON - HOUR, issued_at=NOON, now=NOON)
    assert early[0].field == "happened_at"
