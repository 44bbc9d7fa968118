"""What a released design revision says, as plain facts."""

from typing import Any

from records.models import Revision
from records.queries.conformity.measurements import number


def design_facts(revision: Revision) -> dict[str, Any]:
    """Spell identity, size, limits and care of a revision; one query for stations."""
    stations = revision.stations.order_by("radius_mm", "pk")
    return {
        "model": revision.design.model,
        "revision": revision.number,
        "drawing": revision.drawing,
        "authority": revision.design_authority,
        "basis": revision.basis,
        "basis_words": revision.get_basis_display(),
        "basis_reference": revision.basis_reference,
        "blades": revision.blades,
        "rotation": revision.get_hand_display(),
        "mounting": revision.get_mounting_display(),
        "diameter_mm": number(revision.diameter_mm),
        "pitch_mm": number(revision.pitch_mm),
        "reference_station_mm": number(revision.reference_station_mm),
        "laminations": revision.laminations,
        "lamination_mm": number(revision.lamination_mm),
        "edge_protection": revision.edge_protection,
        "finish_system": revision.finish_system,
        "max_rpm": revision.max_rpm,
        "max_power_kw": number(revision.max_power_kw),
        "suited_to": revision.suited_to,
        "care": revision.care,
        "damage_limits": revision.damage_limits,
        "stations": [
            {
                "radius_mm": number(s.radius_mm),
                "angle_deg": number(s.angle_deg),
                "angle_tolerance_deg": number(s.angle_tolerance_deg),
                "chord_mm": number(s.chord_mm),
                "chord_tolerance_mm": number(s.chord_tolerance_mm),
                "thickness_mm": number(s.thickness_mm),
                "thickness_tolerance_mm": number(s.thickness_tolerance_mm),
            }
            for s in stations
        ],
    }


def mounting_facts(revision: Revision) -> dict[str, Any]:
    """Spell how a propeller of a revision is bolted on: its torque card."""
    return {
        "hub_thickness_mm": number(revision.hub_thickness_mm),
        "hub_diameter_mm": number(revision.hub_diameter_mm),
        "bore_mm": number(revision.bore_mm),
        "bolt_circle_mm": number(revision.bolt_circle_mm),
        "bolt_holes": revision.bolt_holes,
        "bolt_hole_mm": number(revision.bolt_hole_mm),
        "counterbore": revision.counterbore,
        "bolt": revision.bolt,
        "torque_low_nm": number(revision.torque_low_nm),
        "torque_high_nm": number(revision.torque_high_nm),
        "threads_dry": revision.torque_dry,
        "sequence": revision.torque_sequence,
        "retorque": revision.retorque,
        "face_plate_mm": number(revision.face_plate_mm),
    }
