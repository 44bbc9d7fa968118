"""A propeller is released by somebody with the authority, or not at all."""

import pytest

from records.models import Authority, LedgerEntry, Propeller
from records.models.conformity import Release
from records.services.conformity.release import release_propeller
from records.services.refusal import Refusal
from tests import factories, finished

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made


def test_a_finished_propeller_is_released_and_says_by_whom(made):
    release = release_propeller(act=made.act, propeller=made.propeller)
    assert release.printed_name == "Mara Holt"
    assert Propeller.objects.get(pk=made.propeller.pk).state == "released"
    entry = LedgerEntry.objects.head()
    assert (entry.verb, entry.subject) == ("release propeller", "2026-001")


def test_every_reason_comes_at_once_and_nothing_changes(made):
    bare = factories.PropellerFactory(blank=made.propeller.blank, serial="2026-002")
    factories.HoldFactory(propeller=bare, reason="dropped")
    count = LedgerEntry.objects.count()
    with pytest.raises(Refusal) as refused:
        release_propeller(act=made.act, propeller=bare)
    assert len(refused.value.findings) > 20
    assert "dropped" in str(refused.value)
    assert LedgerEntry.objects.count() == count
    assert not Release.objects.exists()


def test_without_the_authority_nothing_is_released(made):
    Authority.objects.filter(person=made.maker, act="release").update(
        until_on=made.act.at.date().replace(year=2020)
    )
    with pytest.raises(Refusal, match="no authority to release"):
        release_propeller(act=made.act, propeller=made.propeller)


def test_it_is_released_once(made):
    release_propeller(act=made.act, propeller=made.propeller)
    with pytest.raises(Refusal, match="is released"):
        release_propeller(act=made.act, propeller=made.propeller)
