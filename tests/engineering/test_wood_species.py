"""Species figures come from the table with their sources."""

from dataclasses import replace

import pytest

from records.engineering import wood_species
from records.engineering.shrinkage import change_by_coefficient
from records.engineering.wood_species import (
    hub_thickness_change,
    species_figures,
    species_names,
)


def test_every_row_of_the_table_is_there():
    assert len(species_names()) == 17
    assert all(species_figures(name).species == name for name in species_names())


# Wood Handbook (2010), seen: Table 4-3 for shrinkage, 13-5 for the coefficients.
@pytest.mark.parametrize(
    ("species", "shrinkage", "coefficients"),
    [
        ("Ash, white", (4.9, 7.8, 13.3), (0.00169, 0.00274)),
        ("Birch, yellow", (7.3, 9.5, 16.8), (0.00256, 0.00338)),
        ("Cherry, black", (3.7, 7.1, 11.5), (0.00126, 0.00248)),
        ("Maple, sugar", (4.8, 9.9, 14.7), (0.00165, 0.00353)),
        ("Walnut, black", (5.5, 7.8, 12.8), (0.00190, 0.00274)),
    ],
)
def test_figures_as_printed(species, shrinkage, coefficients):
    result = species_figures(species)
    assert (
        result.radial_pct,
        result.tangential_pct,
        result.volumetric_pct,
    ) == shrinkage
    assert (result.radial_coefficient, result.tangential_coefficient) == coefficients
    assert result.shrinkage_source == result.coefficient_source == "SEEN"


def test_what_is_from_memory_says_so():
    sitka = species_figures("Spruce, Sitka")
    assert sitka.shrinkage_source.startswith("FROM MEMORY")
    assert species_figures("Mahogany, true").coefficient_source.startswith("FROM MEM")
    assert species_figures("Mahogany, true").shrinkage_source.startswith("SEEN")


@pytest.mark.parametrize(
    ("ring_angle", "coefficient"), [(0, 0.00256), (90, 0.00338), (45, 0.00297)]
)
def test_hub_thickness_follows_the_grain(ring_angle, coefficient):
    change = hub_thickness_change("Birch, yellow", 100, ring_angle, 12, 8)
    assert change == pytest.approx(change_by_coefficient(100, coefficient, 12, 8))


def test_a_species_without_coefficients_is_refused():
    name = "Oak, white (single species)"
    assert species_figures(name).tangential_pct == 10.5
    assert species_figures(name).radial_coefficient is None
    with pytest.raises(
        ValueError,
        match=r"^no dimensional change coefficient is printed for Oak, white.*; "
        r"enter the shop's own$",
    ):
        hub_thickness_change(name, 100, 0, 12, 8)


def test_an_unknown_species_is_refused_with_the_list():
    with pytest.raises(
        ValueError,
        match=r"^species 'Balsa' is not in the table; .*one of Ash, white; B",
    ):
        species_figures("Balsa")


@pytest.mark.parametrize("missing", ["radial_coefficient", "tangential_coefficient"])
def test_half_a_pair_of_coefficients_is_not_enough(missing, monkeypatch):
    half = replace(species_figures("Birch, yellow"), **{missing: None})
    monkeypatch.setattr(wood_species, "_figures", lambda: {half.species: half})
    with pytest.raises(ValueError, match="no dimensional change coefficient"):
        hub_thickness_change("Birch, yellow", 100, 0, 12, 8)
