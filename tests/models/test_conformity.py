"""Releases, records and withdrawals stay as written, whoever asks the database."""

import pytest
from django.db import IntegrityError, transaction

from records.models import ConformityRecord, Withdrawal
from records.models.conformity import Release
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def record(shop):
    return factories.ConformityRecordFactory()


def test_an_issue_of_a_serial_is_there_once(record):
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.ConformityRecordFactory(propeller=record.propeller)


def test_a_replacement_says_why_and_is_the_only_one(record):
    given = {"propeller": record.propeller, "replaces": record}
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.ConformityRecordFactory(issue=2, **given)
    factories.ConformityRecordFactory(issue=2, reason="lost", **given)
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.ConformityRecordFactory(issue=3, reason="lost", **given)


@pytest.mark.parametrize("field", ["signer", "facts", "seal", "ledger_head", "issue"])
def test_nothing_of_a_record_changes(record, field):
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        ConformityRecord.objects.filter(pk=record.pk).update(**{field: 7})


def test_in_force_leaves_out_the_withdrawn_and_the_replaced(record):
    pen = {"written_at": factories.NOON, "written_by": record.written_by}
    other = factories.ConformityRecordFactory()
    Withdrawal.objects.create(
        record=other, happened_at=factories.NOON, reason="wrong", **pen
    )
    second = factories.ConformityRecordFactory(
        propeller=record.propeller, replaces=record, issue=2, reason="lost"
    )
    assert list(ConformityRecord.objects.in_force()) == [second]


def test_a_release_stays(record):
    pen = {"written_at": factories.NOON, "written_by": record.written_by}
    release = Release.objects.create(
        propeller=record.propeller, happened_at=factories.NOON, printed_name="A", **pen
    )
    assert str(release) == "released by A"
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        release.delete()
