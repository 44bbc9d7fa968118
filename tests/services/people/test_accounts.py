"""Accounts and authority: what is written, and what is refused."""

import datetime as dt

import pytest

from records.models import Authority, LedgerEntry, Person, SetUpLink, Shop
from records.models.people import BenchDevice, FailedCheck
from records.queries.people import bench_device
from records.rules.authority import may
from records.services.ledger import Act
from records.services.people import accounts as people
from records.services.refusal import Refusal
from tests import factories
from tests.factories import NOON, PASSWORD

pytestmark = pytest.mark.django_db

MANAGE = Authority.Act.MANAGE
NEW = "another long password"
SET_UP = {
    "at": NOON,
    "shop_name": "Millbrook Airscrews",
    "base_url": "http://shop.example:8000/",
    "name": "Ada Birchwood",
    "login": "Ada",
    "password": NEW,
}


def day(act, days=0):
    return act.at.date() + dt.timedelta(days)


def refused(do, **kwargs):
    """Give the findings of a refusal, and check that nothing was written."""
    before = LedgerEntry.objects.count(), Person.objects.count()
    with pytest.raises(Refusal) as refusal:
        do(**kwargs)
    assert (LedgerEntry.objects.count(), Person.objects.count()) == before
    return [(f.field, f.sentence) for f in refusal.value.findings]


class TestSetUp:
    def test_opens_the_book_with_an_owner_who_may_everything(self):
        token = people.make_set_up_link(NOON)
        person = people.set_up_shop(token=token, **SET_UP)
        assert (person.login, person.role) == ("ada", "owner")
        assert person.check_password(NEW)
        assert all(may(person, act, NOON.date()) == [] for act in Authority.Act)
        shop = Shop.objects.get()
        assert shop.base_url == "http://shop.example:8000"
        [entry] = LedgerEntry.objects.all()
        assert (entry.sequence, entry.written_by) == (1, person)
        assert person.password not in entry.body

    def test_keeps_only_the_links_digest(self):
        token = people.make_set_up_link(NOON)
        [link] = SetUpLink.objects.all()
        assert token not in link.digest
        assert len(token) >= 32

    def test_a_new_link_ends_the_one_before(self):
        old = people.make_set_up_link(NOON)
        people.make_set_up_link(NOON)
        [(_, sentence)] = refused(people.set_up_shop, token=old, **SET_UP)
        assert "used or is too old" in sentence

    def test_a_link_works_once(self):
        token = people.make_set_up_link(NOON)
        people.set_up_shop(token=token, **SET_UP)
        again = SET_UP | {"login": "eve"}
        assert refused(people.set_up_shop, token=token, **again)
        assert refused(people.make_set_up_link, at=NOON)

    def test_a_short_password_keeps_the_link(self):
        token = people.make_set_up_link(NOON)
        short = SET_UP | {"password": "short"}
        [(field, _)] = refused(people.set_up_shop, token=token, **short)
        assert field == "password"
        assert not Shop.objects.exists()
        people.set_up_shop(token=token, **SET_UP)

    def test_an_address_that_is_none_is_refused_at_its_field(self):
        token = people.make_set_up_link(NOON)
        wrong = SET_UP | {"base_url": "the back room"}
        [(field, _)] = refused(people.set_up_shop, token=token, **wrong)
        assert field == "base_url"


class TestAccounts:
    def add(self, act, **kwargs):
        given = {"login": "Ben", "name": "Ben", "role": "maker", "password": NEW}
        return people.add_person(act=act, **(given | kwargs))

    def test_adds_somebody_who_may_nothing_yet(self, act):
        ben = self.add(act)
        assert ben.login == "ben"
        assert ben.check_password(NEW)
        assert may(ben, Authority.Act.SIGN, day(act))

    def test_a_name_is_taken_whatever_its_capitals(self, act):
        self.add(act)
        [(field, _)] = refused(self.add, act=act, login="BEN")
        assert field == "login"

    @pytest.mark.parametrize("login", ["", "a b", "ä", ".a", "a/b", "x" * 41])
    def test_a_sign_in_name_fits_in_an_address(self, act, login):
        [(field, _)] = refused(self.add, act=act, login=login)
        assert field == "login"

    @pytest.mark.parametrize("password", ["short", "password123", "1234567890"])
    def test_a_weak_password_is_refused(self, act, password):
        assert {f for f, _ in refused(self.add, act=act, password=password)} == {
            "password"
        }

    def test_whoever_does_not_manage_people_adds_nobody(self, shop):
        maker = factories.PersonFactory()
        findings = refused(self.add, act=Act(maker, NOON))
        assert "no authority" in findings[0][1]

    def test_a_new_password_ends_the_pin_and_the_wrong_tries(self, act):
        ben = factories.PersonFactory(pin="x")
        FailedCheck.objects.create(person=ben, at=NOON)
        people.reset_password(act=act, person=ben, password=NEW)
        ben.refresh_from_db()
        assert ben.check_password(NEW)
        assert ben.pin == ""
        assert not ben.failed_checks.exists()

    def test_stopping_and_readmitting(self, act):
        ben = factories.PersonFactory()
        people.stop_person(act=act, person=ben)
        assert not Person.objects.get(pk=ben.pk).is_active
        people.readmit_person(act=act, person=ben)
        assert Person.objects.get(pk=ben.pk).is_active

    def test_changes_a_printed_name_and_a_role(self, act):
        ben = factories.PersonFactory()
        people.change_person(act=act, person=ben, name="Ben Ash", role="inspector")
        ben.refresh_from_db()
        assert (ben.name, ben.role) == ("Ben Ash", "inspector")

    def test_the_last_manager_can_neither_leave_nor_become_a_reader(self, act, owner):
        assert refused(people.stop_person, act=act, person=owner)
        [(field, _)] = refused(
            people.change_person, act=act, person=owner, name="A", role="reader"
        )
        assert field == "role"
        factories.AuthorityFactory(act=MANAGE)
        people.stop_person(act=act, person=owner)

    def test_every_change_is_in_the_ledger_without_secrets(self, act):
        ben = self.add(act)
        people.reset_password(act=act, person=ben, password=PASSWORD)
        entries = LedgerEntry.objects.order_by("sequence")
        assert [e.verb for e in entries] == ["add person", "reset password"]
        assert not any("argon2" in e.body or "md5" in e.body for e in entries)


class TestOwnSecrets:
    def test_changes_the_own_password_with_the_old_one(self, act, owner):
        people.change_password(act=act, current=PASSWORD, password=NEW)
        owner.refresh_from_db()
        assert owner.check_password(NEW)

    def test_a_wrong_old_password_is_refused_and_counted(self, act, owner):
        [(field, _)] = refused(
            people.change_password, act=act, current="wrong", password=NEW
        )
        assert field == "current"
        assert owner.failed_checks.count() == 1

    def test_sets_a_pin(self, act, owner):
        people.set_pin(act=act, current=PASSWORD, pin="2580")
        owner.refresh_from_db()
        assert owner.pin
        assert "2580" not in owner.pin


class TestAuthority:
    def test_gives_and_ends_it(self, act):
        ben = factories.PersonFactory()
        given = people.grant_authority(
            act=act, person=ben, deed=Authority.Act.SIGN, from_on=day(act)
        )
        people.end_authority(act=act, authority=given, until_on=day(act))
        assert may(ben, Authority.Act.SIGN, day(act)) == []
        assert may(ben, Authority.Act.SIGN, day(act, 1))

    def test_is_not_given_twice_for_a_day(self, act, owner):
        [(field, _)] = refused(
            people.grant_authority,
            act=act,
            person=owner,
            deed=Authority.Act.SIGN,
            from_on=day(act),
        )
        assert field == "from_on"

    def test_is_not_given_to_a_reader(self, act):
        reader = factories.PersonFactory(role="reader")
        assert refused(
            people.grant_authority,
            act=act,
            person=reader,
            deed=Authority.Act.SIGN,
            from_on=day(act),
        )

    def test_does_not_end_in_the_past_nor_before_it_began(self, act):
        given = factories.AuthorityFactory(from_on=day(act, 5))
        for until in (day(act, -1), day(act, 1)):
            [(field, _)] = refused(
                people.end_authority, act=act, authority=given, until_on=until
            )
            assert field == "until_on"

    def test_one_that_has_ended_is_not_stretched(self, act):
        ended = factories.AuthorityFactory(until_on=day(act, -1))
        findings = refused(
            people.end_authority, act=act, authority=ended, until_on=day(act, 9)
        )
        assert "ended already" in findings[0][1]

    def test_the_last_managers_authority_stays(self, act, owner):
        last = owner.authorities.get(act=MANAGE)
        assert refused(people.end_authority, act=act, authority=last, until_on=day(act))
        factories.AuthorityFactory(act=MANAGE)
        people.end_authority(act=act, authority=last, until_on=day(act))


class TestBenchDevices:
    def test_enrols_and_ends_one(self, act):
        device, token = people.enrol_device(act=act, name="tablet at the press")
        assert bench_device(token) == device
        assert token not in LedgerEntry.objects.get().body
        people.end_device(act=act, device=device)
        assert bench_device(token) is None

    def test_only_a_manager_enrols_one(self, shop):
        assert refused(
            people.enrol_device, act=Act(factories.PersonFactory(), NOON), name="mine"
        )
        assert not BenchDevice.objects.exists()
