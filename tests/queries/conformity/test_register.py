"""Which record stands for a propeller, and where it is found."""

import pytest

from records.models import Withdrawal
from records.queries.conformity.register import (
    newest_record,
    pictures_of,
    record_by_number,
    record_in_force,
    records_listed,
    records_of,
    stamp_photo,
)
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory()


@pytest.fixture
def two(propeller):
    """A record, and the one that replaces it."""
    first = factories.ConformityRecordFactory(propeller=propeller)
    second = factories.ConformityRecordFactory(
        propeller=propeller,
        issue=2,
        replaces=first,
        reason="lost",
        facts_digest="ab" * 32,
    )
    return first, second


def test_the_last_one_stands_until_it_is_withdrawn(propeller, two):
    first, second = two
    assert record_in_force(propeller) == second
    assert records_of(propeller) == [second, first]
    pen = {"written_at": factories.NOON, "written_by": second.written_by}
    Withdrawal.objects.create(
        record=second, happened_at=factories.NOON, reason="wrong", **pen
    )
    assert record_in_force(propeller) is None
    assert newest_record(propeller) == second


def test_a_record_is_found_by_number_or_by_the_digest_as_printed(two):
    first, second = two
    assert record_by_number(f" {first.number.lower()} ") == first
    printed = " ".join(["abababab"] * 8).upper()
    assert record_by_number(printed) == second
    assert record_by_number("") is None


def test_the_list_brings_what_a_row_shows(two, django_assert_num_queries):
    with django_assert_num_queries(1):
        for record in records_listed():
            str(record.propeller.revision.design)
            assert hasattr(record, "replaced_by") or record.replaces


def test_the_photo_of_the_stamp_is_known_by_its_caption(propeller):
    for caption in ("Tip", "Stamp on the hub", "Marking, older"):
        factories.AttachmentFactory(propeller=propeller, caption=caption)
    factories.AttachmentFactory(
        propeller=propeller,
        caption="Mark sheet",
        file__media_type="application/pdf",
    )
    assert pictures_of(propeller).count() == 3
    assert stamp_photo(propeller).caption == "Marking, older"
