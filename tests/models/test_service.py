"""Owners may move; what happened in service and what was told stays."""

import pytest
from django.db import IntegrityError, transaction

from records.models import Notice, NoticeSerial, Owner, Ownership, ServiceEvent
from tests import factories

pytestmark = pytest.mark.django_db
NOON = factories.NOON


@pytest.fixture
def pen(owner):
    return {"written_at": NOON, "written_by": owner}


def test_an_owner_moves_and_keeps_the_name(shop):
    owner = factories.OwnerFactory()
    Owner.objects.filter(pk=owner.pk).update(address="2 Field Lane")
    with pytest.raises(IntegrityError), transaction.atomic():
        Owner.objects.filter(pk=owner.pk).update(name="Somebody else")


def test_handing_over_and_events_stay(pen):
    propeller = factories.PropellerFactory()
    owned = Ownership.objects.create(
        propeller=propeller, owner=factories.OwnerFactory(), happened_at=NOON, **pen
    )
    event = ServiceEvent.objects.create(
        propeller=propeller, kind="report", happened_at=NOON, findings="x", **pen
    )
    for row in (owned, event):
        with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
            row.delete()


def test_a_serial_is_once_under_a_notice(pen):
    notice = Notice.objects.create(
        number="N001", title="T", text="x", happened_at=NOON, **pen
    )
    propeller = factories.PropellerFactory()
    NoticeSerial.objects.create(notice=notice, propeller=propeller, **pen)
    with pytest.raises(IntegrityError), transaction.atomic():
        NoticeSerial.objects.create(notice=notice, propeller=propeller, **pen)
    assert str(notice) == "N001 T"
