"""Handing over, owners and events: in order, and only where they can be true."""

import datetime as dt
from dataclasses import replace

import pytest

from records.models import LedgerEntry, Propeller
from records.queries.service.owners import owner_now
from records.services.conformity.release import release_propeller
from records.services.refusal import Refusal
from records.services.service.events import (
    add_owner,
    change_owner,
    hand_over,
    note_new_owner,
    record_service_event,
)
from tests import factories, finished

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made
HOUR = dt.timedelta(hours=1)


@pytest.fixture
def ready(made):
    """Released, and with a record of this release."""
    release_propeller(act=made.act, propeller=made.propeller)
    factories.ConformityRecordFactory(
        propeller=made.propeller, issued_at=made.act.at + HOUR
    )
    return replace(made, act=replace(made.act, at=made.act.at + 2 * HOUR))


def deliver(ready, **changes):
    given = {
        "owner": factories.OwnerFactory(name="First"),
        "happened_at": ready.act.at,
    } | changes
    return hand_over(act=ready.act, propeller=ready.propeller, **given)


def happen(ready, kind, later=1, **changes):
    act = replace(ready.act, at=ready.act.at + later * HOUR)
    given = {"happened_at": act.at, "findings": "As told."} | changes
    return record_service_event(act=act, propeller=ready.propeller, kind=kind, **given)


def state(made):
    return Propeller.objects.get(pk=made.propeller.pk).state


def test_a_released_propeller_with_its_record_is_handed_over(ready):
    deliver(ready, aircraft=" Own design ")
    assert state(ready) == "delivered"
    assert owner_now(ready.propeller).aircraft == "Own design"
    assert LedgerEntry.objects.head().verb == "hand over"


def test_without_a_record_of_this_release_it_stays(made):
    factories.ConformityRecordFactory(propeller=made.propeller)  # of an earlier one
    release_propeller(act=made.act, propeller=made.propeller)
    with pytest.raises(Refusal, match="no conformity record of this release"):
        deliver(made)


def test_a_hold_keeps_it_in_the_shop(ready):
    factories.HoldFactory(propeller=ready.propeller, reason="dropped")
    with pytest.raises(Refusal, match="dropped"):
        deliver(ready)


def test_what_is_not_released_is_not_handed_over(made):
    with pytest.raises(Refusal, match="only a released one goes"):
        deliver(made)


def test_a_time_to_come_is_refused_at_its_field(ready):
    with pytest.raises(Refusal) as refused:
        deliver(ready, happened_at=ready.act.at + HOUR)
    assert refused.value.findings[0].field == "happened_at"


def test_a_new_owner_follows_the_old_one(ready):
    deliver(ready)
    second = add_owner(act=ready.act, name="Second")
    act = replace(ready.act, at=ready.act.at + HOUR)
    note_new_owner(act=act, propeller=ready.propeller, owner=second, happened_at=act.at)
    assert owner_now(ready.propeller).owner == second
    with pytest.raises(Refusal, match="The owner before had it since"):
        note_new_owner(
            act=act,
            propeller=ready.propeller,
            owner=second,
            happened_at=ready.act.at - HOUR,
        )


def test_a_propeller_in_the_shop_has_no_new_owner(made):
    with pytest.raises(Refusal, match="it has no owner to change"):
        note_new_owner(
            act=made.act,
            propeller=made.propeller,
            owner=factories.OwnerFactory(),
            happened_at=made.act.at,
        )


def test_a_return_is_worked_on_and_the_first_record_stays(ready):
    deliver(ready)
    before = ready.propeller.conformity_records.get()
    happen(ready, "report", later=1)
    assert state(ready) == "delivered"
    happen(ready, "returned", later=2)
    assert state(ready) == "returned"
    happen(ready, "work", later=3)
    assert ready.propeller.conformity_records.get() == before


def test_the_end_of_service_is_final(ready):
    deliver(ready)
    happen(ready, "retired")
    assert state(ready) == "retired"
    for kind in ("report", "returned", "work", "retired"):
        with pytest.raises(Refusal, match="out of service"):
            happen(ready, kind, later=2)


@pytest.mark.parametrize(
    ("kind", "changes", "field"),
    [
        ("work", {}, "kind"),
        ("nonsense", {}, "kind"),
        ("report", {"findings": "  "}, "findings"),
        ("report", {"happened_at": finished.NOON}, "happened_at"),
        ("report", {"hours": -1}, "hours"),
    ],
)
def test_an_impossible_event_is_refused_at_its_field(ready, kind, changes, field):
    deliver(ready)
    with pytest.raises(Refusal) as refused:
        happen(ready, kind, **changes)
    assert field in {f.field for f in refused.value.findings}
    assert not ready.propeller.service_events.exists()


def test_an_owner_has_a_name_and_may_move(act):
    with pytest.raises(Refusal, match="Give the owner's name"):
        add_owner(act=act, name=" ")
    owner = add_owner(act=act, name="A. Owner", address="1 Mill Lane")
    change_owner(act=act, owner=owner, address="2 Field Lane")
    owner.refresh_from_db()
    assert owner.address == "2 Field Lane"
    assert "1 Mill Lane" in LedgerEntry.objects.get(verb="add owner").body
