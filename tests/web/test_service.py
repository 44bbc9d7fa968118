"""Owners, handing over, events and notices on screens."""

import datetime as dt

import pytest
from django.urls import reverse

from records.models import Notice, Owner, Propeller
from tests import factories, finished

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made
BACKEND = "django.contrib.auth.backends.ModelBackend"
NOW = "2026-06-01T10:00"


@pytest.fixture
def office(client, made):
    client.force_login(made.maker, backend=BACKEND)
    return client


@pytest.fixture
def delivered(made):
    """The propeller with its first owner."""
    Propeller.objects.filter(pk=made.propeller.pk).update(state="delivered")
    factories.m.Ownership.objects.create(
        propeller=made.propeller,
        owner=factories.OwnerFactory(name="First Owner"),
        happened_at=factories.NOON,
        written_at=factories.NOON,
        written_by=made.maker,
    )
    return made.propeller


def text(answer):
    return answer.content.decode().replace("\xa0", " ")


def test_an_owner_is_added_and_reached_at_a_new_address(office, made):
    answer = office.post(reverse("service:add_owner"), {"name": "A. Owner"})
    owner = Owner.objects.get(name="A. Owner")
    assert answer.url == reverse("service:owner", args=[owner.pk])
    page = reverse("service:change_owner", args=[owner.pk])
    office.post(page, {"address": "2 Field Lane", "contact": "555 0199"})
    assert "555 0199" in text(office.get(answer.url))


def test_a_nameless_owner_is_refused(office, made):
    assert office.post(reverse("service:add_owner"), {"name": " "}).status_code == 422


def test_handing_over_without_a_record_is_refused_with_a_sentence(office, made):
    Propeller.objects.filter(pk=made.propeller.pk).update(state="released")
    owner = factories.OwnerFactory()
    answer = office.post(
        reverse("service:hand_over", args=["2026-001"]),
        {"owner": owner.pk, "happened_at": NOW, "aircraft": "Own design"},
    )
    assert answer.status_code == 422
    assert "Issue one first." in text(answer)
    assert "Own design" in text(answer)


def test_a_delivered_propeller_gets_a_new_owner(office, delivered):
    owner = factories.OwnerFactory(name="Second Owner")
    office.post(
        reverse("service:new_owner", args=["2026-001"]),
        {"owner": owner.pk, "happened_at": NOW},
    )
    shown = text(office.get(reverse("service:propeller", args=["2026-001"])))
    assert shown.index("Second Owner") < shown.index("First Owner")


def test_a_return_changes_the_state_and_asks_for_work(office, delivered):
    page = reverse("service:event", args=["2026-001"])
    given = {"kind": "returned", "happened_at": NOW, "hours": "120,5"}
    assert office.post(page, given).status_code == 422  # findings are missing
    office.post(page, given | {"findings": "Tip split"})
    delivered.refresh_from_db()
    assert delivered.state == "returned"
    shown = text(office.get(reverse("service:propeller", args=["2026-001"])))
    assert "Note work done" in shown
    assert "120.5 h" in shown


@pytest.mark.parametrize("hours", ["-1", "many", "1000000"])
def test_impossible_hours_are_refused_and_kept(office, delivered, hours):
    answer = office.post(
        reverse("service:event", args=["2026-001"]),
        {"kind": "report", "happened_at": NOW, "hours": hours, "findings": "Dent"},
    )
    assert answer.status_code == 422
    assert hours in text(answer)
    assert not delivered.service_events.exists()


def test_a_notice_goes_to_exactly_these_serials_and_is_followed(office, delivered):
    factories.PropellerFactory(blank=delivered.blank, serial="2026-002")
    answer = office.post(
        reverse("service:issue_notice"),
        {
            "title": "Look at the hub",
            "text": "Before the next run.",
            "serials": "2026-001\n2026-002",
            "happened_at": NOW,
            "do_not_fly": "on",
        },
    )
    notice = Notice.objects.get()
    assert answer.url == reverse("service:notice", args=[notice.number])
    shown = text(office.get(answer.url))
    assert "First Owner" in shown
    assert "no owner in the book" in shown
    rows = notice.for_serials.all()
    page = reverse("service:step", args=[notice.number])
    for kind in ("sent", "acknowledged", "done"):
        office.post(
            page,
            {"serials": [r.pk for r in rows], "kind": kind, "happened_at": NOW},
        )
    assert "done for every serial" in text(office.get(answer.url))


def test_a_serial_that_is_not_in_the_book_is_named(office, made):
    answer = office.post(
        reverse("service:issue_notice"),
        {
            "title": "T",
            "text": "x",
            "serials": "2026-001\n2026-999",
            "happened_at": NOW,
        },
    )
    assert answer.status_code == 422
    assert "The book has no propeller 2026-999." in text(answer)
    assert not Notice.objects.exists()


def test_lists_do_not_ask_more_for_more_rows(
    office, made, django_assert_max_num_queries
):
    blank = made.propeller.blank
    propellers = [
        factories.PropellerFactory(serial=f"S-{n}", blank=blank) for n in range(20)
    ]
    pen = {"written_at": factories.NOON, "written_by": made.maker}
    notice = Notice.objects.create(
        number="N001", title="T", text="x", happened_at=factories.NOON, **pen
    )
    for propeller in propellers:
        factories.m.Ownership.objects.create(
            propeller=propeller,
            owner=factories.OwnerFactory(),
            happened_at=factories.NOON + dt.timedelta(days=1),
            **pen,
        )
        factories.m.NoticeSerial.objects.create(
            notice=notice, propeller=propeller, **pen
        )
    for page in (
        reverse("service:owners"),
        reverse("service:notices"),
        reverse("service:notice", args=["N001"]),
    ):
        with django_assert_max_num_queries(10):
            assert office.get(page).status_code == 200
