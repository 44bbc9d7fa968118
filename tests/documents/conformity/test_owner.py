"""The owner's part: whom to call, notices, the tag, the log."""

import copy

import pytest

from records.documents.conformity.owner import link, log_sheet, owner_part
from tests import finished
from tests.documents import conformity_sample

pytestmark = pytest.mark.django_db
built, facts = finished.built, conformity_sample.facts


def words(section):
    return " ".join(w for row in section.rows for cell in row for w in cell.words)


def test_without_a_contact_the_makers_name_stands(facts):
    new = copy.deepcopy(facts)
    new["maker"]["contact"] = ""
    assert "before the next run: Test Airscrew Works." in words(
        owner_part(new, "data:")
    )


def test_the_owner_is_told_where_to_look_later(facts):
    said = words(owner_part(facts, "data:"))
    assert "None" in said
    assert "Later ones: scan the tag, or http://localhost:8000" in said


def test_a_serial_with_a_space_still_makes_an_address(facts):
    new = copy.deepcopy(facts)
    new["propeller"]["serial"] = "TA 7"
    assert link(new).endswith("/TA%207")


def test_the_log_has_empty_lines_to_fill():
    ((cell,),) = log_sheet().rows
    assert len(cell.table.rows) == 14
    assert not any(any(row) for row in cell.table.rows)
