"""What the page of a revision shows: the drawing's figures, and what they come to."""

from typing import Any

from django.urls import reverse

from records.models import Design, Revision, Station
from records.queries.designs import Figures, figures_of, revisions_of, stations_of
from records.spelling.moments import when
from records.spelling.quantities import both, length, torque
from records.spelling.verdicts import Verdict

Facts = list[tuple[str, Any]]


def design_page(design: Design, disabled_reason: str) -> dict[str, Any]:
    """Gather the page of a design.

    `disabled_reason` says why nothing may be changed.
    """
    revisions = list(revisions_of(design))
    rows = [
        {
            "url": reverse("designs:revision", args=[r.pk]),
            "number": r.number,
            "about": f"{r.reason}. {r.written_by.name}, {when(r.written_at)}",
            "size": f"{length(r.diameter_mm)} x {length(r.pitch_mm)}",
        }
        for r in revisions
    ]
    use = "Take it out of use" if design.in_use else "Take it into use again"
    return {
        "design": design,
        "verdict": Verdict("ok", "in use")
        if design.in_use
        else Verdict("void", "out of use"),
        "revisions": rows,
        "issue": reverse("designs:issue", args=[design.pk]),
        "why_not": disabled_reason,
        "actions": [(use, reverse("designs:use", args=[design.pk]), disabled_reason)],
    }


def revision_page(
    revision: Revision, disabled_reason: str, *, newest: bool
) -> dict[str, Any]:
    """Gather the page of a revision."""
    stations = stations_of(revision)
    figures = figures_of(revision, stations)
    return {
        "revision": revision,
        "verdict": Verdict("ok", "newest") if newest else Verdict("void", "superseded"),
        "sections": _sections(revision, figures),
        "rows": _rows(stations, figures),
        "issue": reverse("designs:issue", args=[revision.design_id]),
        "why_not": disabled_reason,
    }


def _sections(r: Revision, figures: Figures | None) -> list[tuple[str, Facts]]:
    return [
        ("This revision", _issue(r)),
        ("Propeller", _propeller(r)),
        ("Computed from the stations", _computed(figures)),
        ("Stack", _stack(r)),
        ("Hub and bolts", _hub(r)),
        ("Edges, finish, care", _care(r)),
    ]


def _issue(r: Revision) -> Facts:
    return [
        ("Drawing or pattern", r.drawing),
        ("What changed, and why", r.reason),
        ("Design authority", r.design_authority),
        ("Certification basis", r.get_basis_display()),
        ("Certificate, or standard", r.basis_reference or "none"),
        ("Issued", f"{r.written_by.name}, {when(r.written_at)}"),
    ]


def _propeller(r: Revision) -> Facts:
    return [
        ("Blades", r.blades),
        ("Rotation", r.get_hand_display()),
        ("Mounting", r.get_mounting_display()),
        ("Diameter", length(r.diameter_mm)),
        ("Pitch", length(r.pitch_mm)),
        ("Reference station", length(r.reference_station_mm)),
        ("Greatest speed", both(r.max_rpm, "rpm")),
        ("Greatest power", both(r.max_power_kw, "kW")),
        ("Engines and aircraft", r.suited_to),
    ]


def _stack(r: Revision) -> Facts:
    return [
        ("Laminations", f"{r.laminations} of {length(r.lamination_mm)}"),
        ("Blank", f"{length(r.blank_length_mm)} long"),
        ("Width at the hub", length(r.blank_width_mm)),
        ("Species allowed", ", ".join(str(material) for material in r.species.all())),
    ]


def _hub(r: Revision) -> Facts:
    thread = "dry" if r.torque_dry else "oiled"
    torques = f"{torque(r.torque_low_nm)} to {torque(r.torque_high_nm)}"
    return [
        ("Hub thickness", length(r.hub_thickness_mm)),
        ("Hub diameter", length(r.hub_diameter_mm)),
        ("Centre bore", length(r.bore_mm)),
        ("Bolt circle", length(r.bolt_circle_mm)),
        ("Bolt holes", f"{r.bolt_holes} of {length(r.bolt_hole_mm)}"),
        ("Counterbores", r.counterbore or "none"),
        ("Bolt", r.bolt),
        ("Bolt torque", f"{torques}, threads {thread}"),
        ("Sequence", r.torque_sequence),
        ("Check the torque", r.retorque),
        ("Face plate, least diameter", length(r.face_plate_mm)),
    ]


def _care(r: Revision) -> Facts:
    return [
        ("Edge protection", r.edge_protection or "none"),
        ("Finish", r.finish_system or "none"),
        ("Care and storage", r.care),
        ("Damage limits", r.damage_limits),
    ]


def _computed(figures: Figures | None) -> Facts:
    if figures is None:
        return []
    factor = figures.activity_factor
    outline = "needs two stations" if factor is None else f"{factor:.1f}, one blade"
    return [
        ("Mean geometric pitch", length(figures.mean_pitch_mm)),
        ("Activity factor between the stations", outline),
        ("Area of one glued joint", both(figures.joint_area_mm2 / 1e6, "m2")),
    ]


def _rows(stations: list[Station], figures: Figures | None) -> list[list[str]]:
    pitches = figures.pitches_mm if figures else []
    return [
        [
            length(s.radius_mm),
            f"{both(s.angle_deg, 'deg')} ± {both(s.angle_tolerance_deg, 'deg')}",
            f"{length(s.chord_mm)} ± {length(s.chord_tolerance_mm)}",
            f"{length(s.thickness_mm)} ± {length(s.thickness_tolerance_mm)}",
            length(s.blank_width_mm),
            length(pitch),
        ]
        for s, pitch in zip(stations, pitches, strict=True)
    ]
