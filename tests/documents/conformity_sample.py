"""The facts of one finished propeller, gathered once for the tests of a module."""

import datetime as dt

import pytest

from records.queries.conformity.facts import Issue, conformity_facts

AT = dt.datetime(2026, 5, 24, 20, 0, tzinfo=dt.UTC)
ISSUE = Issue(
    number="CR00001",
    issue=1,
    issued_at=AT,
    signer="Mara Holt",
    place="Millbrook",
    packing="Sealed bag",
    tag_code="ABCDEFGHJKMNPQRS",
    ledger_head="5" * 64,
    ledger_sequence=41,
)


@pytest.fixture(scope="module")
def facts(built, django_db_blocker):
    """Gather the facts from the book."""
    with django_db_blocker.unblock():
        return conformity_facts(built.propeller, ISSUE)
