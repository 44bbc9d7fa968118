"""Notices go to exactly the serials named; each is followed until it is done."""

import datetime as dt
from dataclasses import replace

import pytest

from records.models import Authority, Notice
from records.queries.service.owners import notices_in_force
from records.services.refusal import Refusal
from records.services.service.notices import issue_notice, note_steps
from tests import factories

pytestmark = pytest.mark.django_db
HOUR = dt.timedelta(hours=1)


@pytest.fixture
def propellers(shop):
    return factories.PropellerFactory.create_batch(3)


@pytest.fixture
def issue(act, propellers):
    def call(**changes):
        given = {
            "title": "Hub bolts",
            "text": "Check them.",
            "propellers": propellers[:2],
            "happened_at": act.at,
        }
        return issue_notice(act=act, **(given | changes))

    return call


def test_it_is_for_these_serials_and_no_other(issue, propellers):
    notice = issue(propellers=[propellers[0], propellers[1], propellers[0]])
    assert notice.number == "N001"
    assert notice.for_serials.count() == 2
    assert notices_in_force(propellers[0]) == [notice]
    assert notices_in_force(propellers[2]) == []
    assert issue().number == "N002"


def test_everything_missing_comes_at_once(issue):
    with pytest.raises(Refusal) as refused:
        issue(title=" ", text="", propellers=[])
    fields = [f.field for f in refused.value.findings]
    assert fields == ["title", "text", "serials"]
    assert not Notice.objects.exists()


def test_only_with_the_authority(issue, owner):
    Authority.objects.filter(person=owner, act="release").update(
        until_on=dt.date(2020, 12, 31)
    )
    with pytest.raises(Refusal, match="no authority"):
        issue()


def test_it_is_in_force_for_a_serial_until_that_one_is_done(issue, act, propellers):
    notice = issue()
    first, _ = notice.for_serials.order_by("pk")
    later = replace(act, at=act.at + HOUR)
    for kind in ("sent", "acknowledged"):
        note_steps(act=later, serials=[first], kind=kind, happened_at=later.at)
        assert notices_in_force(propellers[0]) == [notice]
    note_steps(act=later, serials=[first], kind="done", happened_at=later.at)
    assert notices_in_force(propellers[0]) == []
    assert notices_in_force(propellers[1]) == [notice]


def test_one_wrong_step_among_many_writes_none(issue, act):
    notice = issue()
    first, second = notice.for_serials.order_by("pk")
    note_steps(act=act, serials=[first], kind="done", happened_at=act.at)
    with pytest.raises(Refusal, match="done for this serial already"):
        note_steps(act=act, serials=[second, first], kind="sent", happened_at=act.at)
    assert not second.steps.exists()


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"kind": "forgotten"}, "kind"),
        ({"happened_at": dt.datetime(2020, 1, 1, tzinfo=dt.UTC)}, "happened_at"),
    ],
)
def test_an_impossible_step_is_refused_at_its_field(issue, act, changes, field):
    serials = list(issue().for_serials.all())
    given = {"kind": "sent", "happened_at": act.at} | changes
    with pytest.raises(Refusal) as refused:
        note_steps(act=act, serials=serials, **given)
    assert refused.value.findings[0].field == field
