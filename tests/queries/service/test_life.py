"""What happened to a propeller besides its making."""

import pytest

from records.models import (
    Designation,
    MaterialChange,
    Notice,
    NoticeSerial,
    Ownership,
    ServiceEvent,
    StageEvent,
)
from records.queries.service.life import life_of
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


def written(model, **fields):
    person = factories.PersonFactory()
    return model.objects.create(written_at=NOON, written_by=person, **fields)


def test_everything_is_gathered_in_seven_queries(shop, django_assert_num_queries):
    propeller = factories.PropellerFactory()
    other = factories.RevisionFactory()
    at = {"happened_at": NOON}
    on = {"propeller": propeller, **at}
    rows = [
        written(Designation, before=other, after=other, reason="short", **on),
        written(MaterialChange, what="removed", place="tip", reason="nick", **on),
        written(
            StageEvent,
            stage=factories.StageFactory(),
            blank=propeller.blank,
            kind="began",
            **at,
        ),
        factories.ConformityRecordFactory(propeller=propeller),
        written(Ownership, owner=factories.OwnerFactory(), **on),
        written(ServiceEvent, kind="report", findings="nick in the tip", **on),
        written(
            NoticeSerial,
            notice=written(Notice, number="N1", title="Torque", text="Check.", **at),
            propeller=propeller,
        ),
    ]
    written(
        MaterialChange,
        what="removed",
        place="tip",
        reason="nick",
        propeller=factories.PropellerFactory(),
        **at,
    )
    with django_assert_num_queries(7):
        life = life_of(propeller)
        names = [str(life.designations[0].after.design), str(life.events[0].stage)]
        names += [str(life.ownerships[0].owner), str(life.notices[0].notice)]
        assert not hasattr(life.records[0], "withdrawal")
    assert len(names) == 4
    assert [
        *life.designations,
        *life.changes,
        *life.events,
        *life.records,
        *life.ownerships,
        *life.service,
        *life.notices,
    ] == rows
