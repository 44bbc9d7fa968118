"""Fields 22 to 32 from bare facts: gaps, concessions and failures are said."""

import copy

import pytest

from records.documents.conformity.declared import deviations, statement
from tests import finished
from tests.documents import conformity_sample

pytestmark = pytest.mark.django_db
built, facts = finished.built, conformity_sample.facts


def cells(section, number):
    return [c for row in section.rows for c in row if c.number == str(number)]


def test_no_concession_is_said_in_a_word(facts):
    (cell,) = cells(deviations(facts), 29)
    assert cell.words == ["None"]


def test_a_certificated_propeller_is_declared_to_its_certificate(facts):
    new = copy.deepcopy(facts)
    new["design"] |= {"basis": "certificated", "basis_reference": "TC P-1"}
    (cell,) = cells(statement(new), 30)
    assert "TC P-1" in cell.words[0]
