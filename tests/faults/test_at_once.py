"""Two hands on one thing at the same moment: one order, nothing lost or doubled."""

import datetime as dt
import threading

import pytest
from django.db import connection
from django.utils import timezone

from records import chain
from records.models import LedgerEntry, RefusedSignature, SignOff
from records.services.ledger import Act
from records.services.refusal import Refusal
from records.services.signoffs import sign_stage
from tests import factories
from tests.faults.client import Client
from tests.faults.set_up import PEOPLE
from tests.own_book import own_database
from tests.stored_chain import links

pytestmark = pytest.mark.faults
SAVED = 302
KEY = "7b8f2f0e-6f5c-4d0a-9a53-1f2f6c0f5a11"


def all_at_once(*deeds):
    """Do things in threads that start together; give what each gave or raised."""
    barrier = threading.Barrier(len(deeds))
    results = [None] * len(deeds)

    def run(number, deed):
        barrier.wait(30)
        try:
            results[number] = deed()
        except Exception as error:  # whatever it was is looked at
            results[number] = error
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=pair) for pair in enumerate(deeds)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
        assert not thread.is_alive()
    return results


class TestSigning:
    @pytest.fixture(autouse=True)
    def book(self, transactional_db, tmp_path):
        with own_database(tmp_path):
            factories.ShopFactory()
            self.owner = factories.owner(name="First")
            self.other = factories.owner(name="Second")
            self.propeller = factories.PropellerFactory()
            self.stage = factories.StageFactory(revision=self.propeller.blank.route)
            yield

    def sign(self, person, kind="self"):
        now = timezone.now() - dt.timedelta(seconds=1)
        return lambda: sign_stage(
            act=Act(by=person, at=timezone.now()),
            subject=self.propeller,
            stage=self.stage,
            meaning="Inspected, as required",
            check_kind=kind,
            method="password",
            happened_at=now,
        )

    def test_by_two_people_both_stand_one_after_the_other(self, rounds):
        for _ in range(min(rounds, 20)):
            self.stage = factories.StageFactory(revision=self.propeller.blank.route)
            results = all_at_once(self.sign(self.owner), self.sign(self.other))
            assert all(isinstance(result, SignOff) for result in results), results
            signed = SignOff.objects.filter(stage=self.stage)
            assert {sign.printed_name for sign in signed} == {"First", "Second"}
        self.holds()

    def test_by_one_person_twice_only_one_stands(self, rounds):
        for _ in range(min(rounds, 20)):
            self.stage = factories.StageFactory(revision=self.propeller.blank.route)
            results = all_at_once(self.sign(self.owner), self.sign(self.owner))
            assert SignOff.objects.filter(stage=self.stage).count() == 1
            (refused,) = (r for r in results if not isinstance(r, SignOff))
            assert isinstance(refused, Refusal), refused
            assert "has signed" in str(refused)
            assert RefusedSignature.objects.filter(stage=self.stage).count() == 1
        self.holds()

    def holds(self):
        assert list(chain.verify_chain(links())) == []
        verbs = list(LedgerEntry.objects.values_list("verb", flat=True))
        assert verbs.count("sign stage") == SignOff.objects.count()


class TestTheSameForm:
    @pytest.fixture(autouse=True)
    def served(self, shop):
        self.shop = shop

    def test_sent_again_counts_once_and_leads_to_the_same_page(self):
        client = self.shop.client()
        first = client.add_supplier("Timber yard", KEY)
        again = client.add_supplier("Timber yard", KEY)
        assert (first, again) == (SAVED, SAVED)
        assert self.shop.suppliers() == ["Timber yard"]

    def test_sent_by_eight_browsers_at_once_counts_once(self, rounds):
        clients = [self.shop.client("maker0") for _ in PEOPLE]
        for number in range(min(rounds, 20)):
            key = KEY[:-4] + f"{number:04}"
            deeds = [
                lambda c=client, n=n, k=key: c.add_supplier(f"Yard {n} of {k}", k)
                for n, client in enumerate(clients)
            ]
            assert all_at_once(*deeds) == [SAVED] * len(PEOPLE)
            assert len(self.shop.suppliers()) == number + 1
        assert self.shop.breaks() == []

    def test_two_different_forms_for_one_name_leave_one_and_a_sentence(self):
        first, second = self.shop.client("maker0"), self.shop.client("maker1")
        results = all_at_once(
            lambda: first.add_supplier("One name"),
            lambda: second.add_supplier("One name"),
        )
        assert sorted(results) == [SAVED, 422]
        assert self.shop.suppliers() == ["One name"]

    def test_a_stranger_has_no_part_in_it(self):
        assert Client(self.shop.port).add_supplier("Nobody's", KEY) == 403
        assert self.shop.suppliers() == []
