"""Fields 1 to 21 from bare facts: what is said where something is missing."""

import copy

import pytest

from records.documents.conformity.form import (
    construction,
    heading,
    identity,
    mounting,
)
from tests import finished
from tests.documents import conformity_sample

pytestmark = pytest.mark.django_db
built, facts = finished.built, conformity_sample.facts


def cells(section, number):
    return [c for row in section.rows for c in row if c.number == str(number)]


def changed(facts, part, **values):
    new = copy.deepcopy(facts)
    new[part].update(values)
    return new


def test_laminations_of_two_species_are_told_apart(facts):
    new = copy.deepcopy(facts)
    new["construction"]["laminations"][0]["species"] = "Walnut"
    (cell,) = cells(construction(new), 12)
    assert cell.words[0].startswith("1 of Walnut")
    assert cell.words[1].startswith("3 of Yellow birch")


def test_what_was_put_on_later_stands_under_edges(facts):
    use = {"material": "Brass sheet", "number": "L0007", "place": "edges", "at": None}
    new = changed(facts, "construction", put_on_later=[use])
    (cell,) = cells(construction(new), 15)
    assert cell.words == ["edges: Brass sheet L0007"]


def test_edges_without_anything_are_none(facts):
    (cell,) = cells(construction(facts), 15)
    assert cell.words == ["None"]


def test_lubricated_threads_are_said(facts):
    (cell,) = cells(mounting(changed(facts, "mounting", threads_dry=False)), 19)
    assert "1/2 in AN8, threads lubricated" in cell.words


def test_hub_figures_stand_drawn_and_read_side_by_side(facts):
    (cell,) = cells(mounting(facts), 18)
    rows = {row[0]: row[1:] for row in cell.table.rows}
    assert rows["Centre bore"] == ["40\xa0mm (1.575\xa0in)", "40.1\xa0mm (1.579\xa0in)"]
    assert cell.table.head[2] == "Read at 9.6\xa0% moisture"


def test_a_station_that_is_not_in_the_table_gives_no_angle(facts):
    (cell,) = cells(identity(changed(facts, "design", reference_station_mm="600")), 8)
    assert "°" not in cell.words[0]


def test_the_basis_is_never_preset(facts):
    with pytest.raises(KeyError):
        heading(changed(facts, "design", basis=""))
