"""Can a propeller be built to this drawing."""

from decimal import Decimal

import pytest

from records.models import Design, Material
from records.rules.designs import revision_is_sound, stations_are_sound

TIMBER = Material(kind="timber", name="Birch")
GOOD = {
    "radius_mm": Decimal(600),
    "angle_deg": Decimal(17),
    "angle_tolerance_deg": Decimal("0.5"),
    "chord_mm": Decimal(120),
    "chord_tolerance_mm": Decimal(3),
    "thickness_mm": Decimal(15),
    "thickness_tolerance_mm": Decimal("0.25"),
    "blank_width_mm": Decimal(150),
}


def fields(**changes):
    facts = {"diameter_mm": Decimal(1720), "basis": "experimental", **changes}
    findings = revision_is_sound(Design(), facts, [GOOD], [TIMBER])
    return [f.field for f in findings]


def stations(**changes):
    rows = [{**GOOD, **{k: Decimal(v) for k, v in changes.items()}}]
    return [f.field for f in stations_are_sound(rows, Decimal(1720))]


def test_a_good_drawing_has_nothing_against_it():
    assert fields() == []


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"radius_mm": "860"}, None),
        ({"radius_mm": "860.001"}, "radius_mm"),
        ({"radius_mm": "0"}, "radius_mm"),
        ({"angle_deg": "0"}, None),
        ({"angle_deg": "89.999"}, None),
        ({"angle_deg": "90"}, "angle_deg"),
        ({"angle_deg": "-0.001"}, "angle_deg"),
        ({"thickness_mm": "120"}, None),
        ({"thickness_mm": "120.001"}, "thickness_mm"),
        ({"thickness_mm": "0"}, "thickness_mm"),
        ({"chord_tolerance_mm": "0"}, None),
        ({"chord_tolerance_mm": "-1"}, "chord_tolerance_mm"),
        ({"angle_tolerance_deg": "-1"}, "angle_tolerance_deg"),
        ({"thickness_tolerance_mm": "-1"}, "thickness_mm"),
        ({"blank_width_mm": "0"}, "blank_width_mm"),
    ],
)
def test_both_edges_of_a_station(changes, field):
    assert stations(**changes) == ([f"stations-0-{field}"] if field else [])


def test_hub_bore_and_bolts_lie_inside_each_other():
    hub = {"bore_mm": 40, "bolt_circle_mm": 120, "hub_diameter_mm": 170}
    assert fields(**hub) == []
    assert fields(**hub | {"bore_mm": 120}) == ["bore_mm"]
    assert fields(**hub | {"hub_diameter_mm": 120}) == ["bolt_circle_mm"]
    assert fields(**hub | {"hub_diameter_mm": None}) == []


def test_the_stack_is_as_high_as_the_hub():
    stack = {"laminations": 6, "lamination_mm": Decimal(19)}
    assert fields(**stack, hub_thickness_mm=Decimal(114)) == []
    assert fields(**stack, hub_thickness_mm=Decimal("114.001")) == ["lamination_mm"]


@pytest.mark.parametrize("basis", ["certificated", "light_sport"])
def test_what_is_claimed_is_named(basis):
    # 14 CFR 45.10 (seen): nothing is marked as approved that is not.
    assert fields(basis=basis) == ["basis_reference"]
    assert fields(basis=basis, basis_reference="ASTM F2506, edition") == []


def test_the_species_are_timber():
    glue = Material(kind="adhesive", name="Resorcinol")
    findings = revision_is_sound(Design(), {"basis": "experimental"}, [GOOD], [glue])
    assert [f.sentence for f in findings] == ["Resorcinol is no timber."]
