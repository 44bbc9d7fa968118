"""Can a propeller be built to this drawing: all that is wrong with it, at once."""

from collections import Counter
from collections.abc import Iterable, Sequence
from decimal import Decimal
from itertools import pairwise
from typing import Any

from records.models import Design, Material, Revision
from records.rules.finding import Finding
from records.spelling.quantities import in_unit

Basis = Revision.Basis
RIGHT_ANGLE = 90
# In order: each is wider than the one before.
WIDTHS = (
    ("bore_mm", "The centre bore"),
    ("bolt_circle_mm", "The bolt circle"),
    ("hub_diameter_mm", "The hub"),
)


def revision_is_sound(
    design: Design,
    fields: dict[str, Any],
    stations: Sequence[dict[str, Any]],
    species: Iterable[Material],
) -> list[Finding]:
    """Say all that is wrong with a revision and its station table."""
    return [
        *_number_is_new(design, fields),
        *_is_sized(fields),
        *_basis_is_stated(fields),
        *_species_are_timber(species),
        *stations_are_sound(stations, fields.get("diameter_mm")),
    ]


def stations_are_sound(
    stations: Sequence[dict[str, Any]], diameter_mm: Decimal | None
) -> list[Finding]:
    """Say what is wrong with the rows of a station table."""
    findings = [] if stations else [Finding("Give at least one station.", "stations")]
    twice = Counter(row["radius_mm"] for row in stations)
    for place, row in enumerate(stations):
        radius = row["radius_mm"]
        field = f"stations-{place}-"
        if radius <= 0 or (diameter_mm and radius * 2 > diameter_mm):
            sentence = (
                f"Station {in_unit(radius, 'mm')} is not on the blade: it ends at the "
                "tip."
            )
            findings.append(Finding(sentence, f"{field}radius_mm"))
        if twice[radius] > 1:
            sentence = f"Two stations have the radius {in_unit(radius, 'mm')}."
            findings.append(Finding(sentence, f"{field}radius_mm"))
        if not 0 <= row["angle_deg"] < RIGHT_ANGLE:
            sentence = (
                f"A blade angle lies between 0 and 90°, not at {row['angle_deg']}."
            )
            findings.append(Finding(sentence, f"{field}angle_deg"))
        findings += _row_is_sized(row, field)
    return findings


def _row_is_sized(row: dict[str, Any], field: str) -> list[Finding]:
    findings = [
        Finding("This is more than 0.", f"{field}{name}")
        for name in ("chord_mm", "thickness_mm", "blank_width_mm")
        if row[name] <= 0
    ]
    findings += [
        Finding("A tolerance is not negative.", f"{field}{name}")
        for name in ("angle_tolerance_deg", "chord_tolerance_mm")
        if row[name] < 0
    ]
    if row["thickness_tolerance_mm"] < 0 or row["thickness_mm"] > row["chord_mm"]:
        sentence = "A section is no thicker than its chord, its tolerance not negative."
        findings.append(Finding(sentence, f"{field}thickness_mm"))
    return findings


def _number_is_new(design: Design, fields: dict[str, Any]) -> list[Finding]:
    number = str(fields.get("number", "")).strip()
    if not design.pk or not design.revisions.filter(number__iexact=number).exists():
        return []
    return [Finding(f"{design} has a revision {number} already.", "number")]


def _is_sized(fields: dict[str, Any]) -> list[Finding]:
    findings = []
    diameter, radius = fields.get("diameter_mm"), fields.get("reference_station_mm")
    length, hub = fields.get("blank_length_mm"), fields.get("hub_thickness_mm")
    if diameter and radius and radius * 2 > diameter:
        sentence = "The reference station lies beyond the tip."
        findings.append(Finding(sentence, "reference_station_mm"))
    if diameter and length and length < diameter:
        sentence = "The blank is shorter than the propeller."
        findings.append(Finding(sentence, "blank_length_mm"))
    stack = (fields.get("laminations") or 0) * (fields.get("lamination_mm") or 0)
    if hub and stack and stack < hub:
        sentence = (
            f"The stack is {in_unit(stack, 'mm')} high; the hub needs "
            f"{in_unit(hub, 'mm')}."
        )
        findings.append(Finding(sentence, "lamination_mm"))
    widths = [(fields[n], words, n) for n, words in WIDTHS if fields.get(n)]
    for (inner, words, field), (outer, others, _) in pairwise(widths):
        if inner >= outer:
            findings.append(Finding(f"{words} is as wide as {others.lower()}.", field))
    low, high = fields.get("torque_low_nm"), fields.get("torque_high_nm")
    if low is not None and high is not None and low > high:
        sentence = "The least torque is more than the most."
        findings.append(Finding(sentence, "torque_low_nm"))
    return findings


def _basis_is_stated(fields: dict[str, Any]) -> list[Finding]:
    claimed = fields.get("basis") in {Basis.CERTIFICATED, Basis.LIGHT_SPORT}
    if not claimed or str(fields.get("basis_reference", "")).strip():
        return []
    sentence = "Name the certificate, or the standard with its edition."
    return [Finding(sentence, "basis_reference")]


def _species_are_timber(species: Iterable[Material]) -> list[Finding]:
    chosen = list(species)
    if not chosen:
        return [Finding("Say which species may be used.", "species")]
    return [
        Finding(f"{material} is no timber.", "species")
        for material in chosen
        if material.kind != Material.Kind.TIMBER
    ]
