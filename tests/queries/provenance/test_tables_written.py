"""Signatures and deviations stand in tables, the same for every reader."""

import pytest

from records.queries.provenance.tables_written import deviations, signatures
from records.queries.trace.history import where_from
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory()


def test_a_signature_says_of_what_by_whom_and_what_it_means(propeller):
    signoff = factories.SignOffFactory(propeller=propeller)
    table = signatures(where_from(propeller).written)
    [row] = table.rows
    assert len(row.cells) == len(table.columns)
    assert row.cells[:3] == (
        signoff.stage.name,
        f"propeller {propeller.serial}",
        signoff.printed_name,
    )


def test_a_deviation_without_decision_says_so(propeller):
    deviation = factories.DeviationFactory(number="D0009")
    factories.DeviationSubjectFactory(deviation=deviation, propeller=propeller)
    table = deviations(where_from(propeller).written)
    [row] = table.rows
    assert row.cells[0] == "D0009"
    assert row.cells[-2:] == ("nothing decided yet", "open")
    assert (row.thing, row.verdict.shape) == (deviation, "waiting")


def test_a_decision_is_told_with_its_reason(propeller):
    deviation = factories.DeviationFactory(state="closed")
    factories.DeviationSubjectFactory(deviation=deviation, propeller=propeller)
    factories.DispositionFactory(deviation=deviation, kind="rework", reason="Sanded.")
    [row] = deviations(where_from(propeller).written).rows
    assert row.cells[-2].startswith("rework, ")
    assert row.cells[-2].endswith(": Sanded.")
    assert row.verdict.shape == "ok"
