"""Lists of signatures and of refused attempts."""

import pytest

from records.models import RefusedSignature
from records.queries.signoffs.register import refusals_listed, signoffs_listed
from tests import factories

pytestmark = pytest.mark.django_db


def test_signatures_are_listed_in_one_query(django_assert_num_queries):
    for _ in range(20):
        factories.SignOffFactory()
    with django_assert_num_queries(1):
        rows = list(signoffs_listed())
        assert all(row.subject and row.stage and row.written_by for row in rows)
    assert len(rows) == 20


def test_refused_attempts_are_listed_in_one_query(django_assert_num_queries):
    signoff = factories.SignOffFactory()
    for n in range(20):
        RefusedSignature.objects.create(
            stage=signoff.stage,
            propeller=signoff.propeller,
            happened_at=factories.NOON,
            why=f"Reason {n}",
            written_by=signoff.written_by,
            written_at=factories.NOON,
        )
    with django_assert_num_queries(1):
        rows = list(refusals_listed())
        assert all(row.subject and row.stage and row.written_by for row in rows)
    assert rows[0].why == "Reason 19"
