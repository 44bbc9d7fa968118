"""Owners now and before, events, and notices with what became of them."""

import datetime as dt

import pytest

from records.models import Notice, NoticeSerial, NoticeStep, Ownership, ServiceEvent
from records.queries.service.owners import (
    events_of,
    lines_of,
    notices_in_force,
    notices_listed,
    owner_now,
    owners_listed,
    owners_now,
    ownerships_of,
    propellers_of,
)
from tests import factories

pytestmark = pytest.mark.django_db
NOON = factories.NOON
DAY = dt.timedelta(days=1)


@pytest.fixture
def pen(owner):
    return {"written_at": NOON, "written_by": owner}


@pytest.fixture
def owned(pen):
    """A propeller that went from a first to a second owner."""
    propeller = factories.PropellerFactory()
    first, second = (factories.OwnerFactory(name=n) for n in ("Ann", "Ben"))
    for days, who in enumerate((first, second)):
        Ownership.objects.create(
            propeller=propeller, owner=who, happened_at=NOON + days * DAY, **pen
        )
    return propeller, first, second


@pytest.fixture
def notice(owned, pen):
    propeller, *_ = owned
    notice = Notice.objects.create(
        number="N001", title="T", text="x", happened_at=NOON, **pen
    )
    for one in (propeller, factories.PropellerFactory()):
        NoticeSerial.objects.create(notice=notice, propeller=one, **pen)
    return notice


def step(notice, propeller, kind, pen, days=0):
    return NoticeStep.objects.create(
        serial=notice.for_serials.get(propeller=propeller),
        kind=kind,
        happened_at=NOON + days * DAY,
        **pen,
    )


def test_only_the_last_owner_has_it_now(owned, django_assert_num_queries):
    propeller, first, second = owned
    assert owner_now(propeller).owner == second
    assert [o.owner for o in ownerships_of(propeller)] == [first, second]
    with django_assert_num_queries(1):
        counts = {o.name: o.now for o in owners_listed()}
    assert counts == {"Ann": None, "Ben": 1}
    assert owners_now([propeller.pk]) == {propeller.pk: second}
    assert [o.propeller for o in propellers_of(first)] == [propeller]


def test_events_come_in_their_order(owned, pen):
    propeller, *_ = owned
    for days, words in ((2, "b"), (1, "a")):
        ServiceEvent.objects.create(
            propeller=propeller,
            kind="report",
            happened_at=NOON + days * DAY,
            findings=words,
            **pen,
        )
    assert [e.findings for e in events_of(propeller)] == ["a", "b"]


def test_a_notice_is_in_force_until_done_for_that_serial(notice, owned, pen):
    propeller, *_ = owned
    step(notice, propeller, "acknowledged", pen)
    assert notices_in_force(propeller) == [notice]
    step(notice, propeller, "done", pen, days=1)
    assert notices_in_force(propeller) == []


def test_lines_name_owner_and_last_step_in_four_queries(
    notice, owned, pen, django_assert_num_queries
):
    propeller, _, second = owned
    step(notice, propeller, "sent", pen)
    step(notice, propeller, "acknowledged", pen, days=1)
    with django_assert_num_queries(4):
        lines = lines_of(notice)
        assert [line.last and line.last.kind for line in lines] == [
            "acknowledged",
            None,
        ]
    assert [line.owner for line in lines] == [second, None]


def test_the_list_counts_serials_told_and_done(notice, owned, pen):
    propeller, *_ = owned
    step(notice, propeller, "acknowledged", pen)
    (line,) = notices_listed()
    assert (line.under, line.told, line.done) == (2, 1, 0)
