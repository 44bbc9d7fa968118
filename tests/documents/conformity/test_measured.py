"""Fields 22 to 32 from bare facts: gaps, concessions and failures are said."""

import copy

import pytest

from records.documents.conformity.measured import measured
from tests import finished
from tests.documents import conformity_sample

pytestmark = pytest.mark.django_db
built, facts = finished.built, conformity_sample.facts


def cells(section, number):
    return [c for row in section.rows for c in row if c.number == str(number)]


def test_a_station_that_was_not_read_says_so(facts):
    new = copy.deepcopy(facts)
    new["measured"]["angle"] = new["measured"]["angle"][1:]
    (cell,) = cells(measured(new), 22)
    assert any("not read" in row for row in cell.table.rows)


def test_an_accepted_chord_is_counted_apart(facts):
    new = copy.deepcopy(facts)
    new["measured"]["chord"][0] |= {
        "verdict": "outside",
        "accepted_by_concession": True,
    }
    (cell,) = cells(measured(new), 26)
    assert any("8 readings, 7 inside, 1 accepted: see 29" in w for w in cell.words)


def test_without_readings_chord_is_held_on_file(facts):
    new = copy.deepcopy(facts)
    new["measured"]["chord"] = []
    (cell,) = cells(measured(new), 26)
    assert "Chord: held on file" in cell.words


def test_a_coupons_strength_is_spelled_in_both_systems(facts):
    new = copy.deepcopy(facts)
    new["coupons"][0] |= {"strength_pa": "12000000", "least_strength_pa": "10000000"}
    (cell,) = cells(measured(new), 27)
    assert (
        "12.00\xa0MPa (1740\xa0psi), at least 10.00\xa0MPa (1450\xa0psi)"
        in cell.table.rows[0]
    )


def test_missing_figures_are_dashes(facts):
    new = copy.deepcopy(facts)
    new["measured"] = {name: [] for name in new["measured"]}
    new["coupons"] = new["instruments"] = []
    for number in (23, 24, 27, 28):
        (cell,) = cells(measured(new), number)
        assert set(cell.table.rows[0]) == {"\N{EN DASH}"}
