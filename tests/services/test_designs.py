"""Revisions of a design are checked whole and frozen when they are issued."""

from decimal import Decimal

import pytest

from records.models import Revision
from records.services.designs import add_design, issue_revision, set_design_use
from records.services.refusal import Refusal
from tests import factories

pytestmark = pytest.mark.django_db

# A 68 x 48 in blade: angles of constant pitch at 0.45, 0.60, 0.75 and 0.90 of the
# radius (check values, computed and printed to 0.001 deg).
STATIONS = [
    ("388.62", "26.533", "150", "30"),
    ("518.16", "20.530", "140", "22"),
    ("647.70", "16.677", "120", "15"),
    ("777.24", "14.018", "95", "10"),
]


def station(radius, angle, chord, thickness):
    return {
        "radius_mm": Decimal(radius),
        "angle_deg": Decimal(angle),
        "angle_tolerance_deg": Decimal("0.5"),
        "chord_mm": Decimal(chord),
        "chord_tolerance_mm": Decimal(3),
        "thickness_mm": Decimal(thickness),
        "thickness_tolerance_mm": Decimal("0.25"),
        "blank_width_mm": Decimal(160),
    }


FIELDS = {
    "number": "A",
    "drawing": "Drawing 12",
    "reason": "First issue",
    "design_authority": "The shop's design office",
    "basis": "experimental",
    "blades": 2,
    "hand": "right",
    "mounting": "tractor",
    "diameter_mm": Decimal("1727.2"),
    "pitch_mm": Decimal("1219.2"),
    "reference_station_mm": Decimal("647.7"),
    "laminations": 6,
    "lamination_mm": Decimal(19),
    "blank_length_mm": Decimal(1760),
    "blank_width_mm": Decimal(170),
    "hub_thickness_mm": Decimal(110),
    "hub_diameter_mm": Decimal(170),
    "bore_mm": Decimal(40),
    "bolt_circle_mm": Decimal("120.65"),
    "bolt_holes": 6,
    "bolt_hole_mm": Decimal(13),
    "max_rpm": 2700,
    "max_power_kw": Decimal(75),
    "bolt": "1/2 in",
    "torque_low_nm": Decimal(24),
    "torque_high_nm": Decimal(27),
    "torque_sequence": "Opposite pairs.",
    "retorque": "After the first flight.",
    "face_plate_mm": Decimal(165),
    "care": "Dry, flat, not heated.",
    "damage_limits": "Out of service with any crack across the grain.",
}


@pytest.fixture
def issue(act):
    design = add_design(act=act, model="TA-68")
    birch = factories.TimberFactory()

    def call(stations=None, species=None, **changes):
        return issue_revision(
            act=act,
            design=design,
            stations=[station(*row) for row in STATIONS]
            if stations is None
            else stations,
            species=[birch] if species is None else species,
            **{**FIELDS, **changes},
        )

    return call


def fields(refused):
    return [f.field for f in refused.value.findings]


def test_a_revision_is_issued_with_stations_from_the_hub_outwards(issue):
    rows = [station(*row) for row in reversed(STATIONS)]
    revision = issue(stations=rows)
    radii = list(revision.stations.values_list("radius_mm", flat=True))
    assert radii == sorted(radii)
    assert revision.species.count() == 1


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"reference_station_mm": Decimal(864)}, "reference_station_mm"),
        ({"blank_length_mm": Decimal(1727)}, "blank_length_mm"),
        ({"lamination_mm": Decimal("18.3")}, "lamination_mm"),
        ({"bore_mm": Decimal("120.65")}, "bore_mm"),
        ({"bolt_circle_mm": Decimal(170)}, "bolt_circle_mm"),
        ({"torque_low_nm": Decimal("27.1")}, "torque_low_nm"),
        ({"basis": "certificated"}, "basis_reference"),
        ({"basis": "light_sport"}, "basis_reference"),
        ({"species": []}, "species"),
        ({"stations": []}, "stations"),
        ({"blades": 1}, "blades"),
        ({"basis": ""}, "basis"),
    ],
)
def test_a_drawing_that_can_not_be_is_refused_at_its_field(issue, changes, field):
    with pytest.raises(Refusal) as refused:
        issue(**changes)
    assert fields(refused) == [field]
    assert not Revision.objects.exists()


@pytest.mark.parametrize(
    "changes",
    [
        {"reference_station_mm": Decimal("863.6")},
        {"blank_length_mm": Decimal("1727.2")},
        {"lamination_mm": Decimal("18.334")},
        {"torque_low_nm": Decimal(27)},
        {"hub_diameter_mm": None},
        {"basis": "light_sport", "basis_reference": "ASTM F2506, with its edition"},
    ],
)
def test_the_edge_of_each_rule_is_inside(issue, changes):
    assert issue(**changes)


@pytest.mark.parametrize(
    ("row", "column"),
    [
        (("0", "20", "100", "20"), "radius_mm"),
        (("863.601", "20", "100", "20"), "radius_mm"),
        (("700", "-1", "100", "20"), "angle_deg"),
        (("700", "90", "100", "20"), "angle_deg"),
        (("700", "20", "0", "0"), "chord_mm"),
        (("700", "20", "100", "101"), "thickness_mm"),
    ],
)
def test_a_bad_station_is_named_by_its_row_and_column(issue, row, column):
    with pytest.raises(Refusal) as refused:
        issue(stations=[station(*STATIONS[0]), station(*row)])
    assert f"stations-1-{column}" in fields(refused)


def test_two_stations_never_share_a_radius(issue):
    with pytest.raises(Refusal) as refused:
        issue(stations=[station(*STATIONS[0])] * 2)
    assert fields(refused) == ["stations-0-radius_mm", "stations-1-radius_mm"]


def test_a_species_is_timber(issue):
    with pytest.raises(Refusal, match="is no timber"):
        issue(species=[factories.AdhesiveFactory()])


def test_a_revision_number_is_used_once_a_design(issue):
    issue()
    with pytest.raises(Refusal, match="has a revision a already"):
        issue(number="a")


def test_the_basis_is_never_preset():
    assert not Revision._meta.get_field("basis").has_default()


def test_a_design_goes_out_of_use_and_back(act):
    design = add_design(act=act, model="TA-1")
    assert not set_design_use(act=act, design=design, in_use=False).in_use
    assert set_design_use(act=act, design=design, in_use=True).in_use


def test_only_somebody_with_the_authority_issues_designs(act, issue):
    act.by.role = act.by.Role.READER
    with pytest.raises(Refusal, match="is a reader"):
        issue()
    with pytest.raises(Refusal, match="is a reader"):
        add_design(act=act, model="TA-2")
