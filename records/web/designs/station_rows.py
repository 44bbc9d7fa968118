"""The station table in a form: one row a station, what is empty is left."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms

from records.models import Station
from records.web.designs.lengths import LengthField
from records.web.shared.fields import NumberField

ROWS, MOST_ROWS = 8, 24
COLUMNS = (
    ("radius_mm", "Radius, mm"),
    ("angle_deg", "Angle, °"),
    ("angle_tolerance_deg", "± °"),
    ("chord_mm", "Chord, mm"),
    ("chord_tolerance_mm", "± mm"),
    ("thickness_mm", "Thickness, mm"),
    ("thickness_tolerance_mm", "± mm"),
    ("blank_width_mm", "Blank, mm"),
)


def station_fields(rows: int) -> dict[str, forms.Field]:
    """Make the fields of a station table."""
    return {
        name_of(row, column): _field(f"Station {row + 1}, {words}", column)
        for row in range(rows)
        for column, words in COLUMNS
    }


def name_of(row: int, column: str) -> str:
    """Name a field as a finding names it: stations-2-angle_deg."""
    return f"stations-{row}-{column}"


def filled_rows(
    given: Mapping[str, Any], rows: int
) -> tuple[list[dict[str, Decimal]], list[str]]:
    """Give the stations that were filled in, and the fields left out among them."""
    filled: list[dict[str, Decimal]] = []
    missing: list[str] = []
    for row in range(rows):
        values = {column: given.get(name_of(row, column)) for column, _ in COLUMNS}
        if all(value is None for value in values.values()):
            continue
        missing += [name_of(row, c) for c, value in values.items() if value is None]
        filled.append({c: v for c, v in values.items() if v is not None})
    return filled, missing


def initial_rows(stations: list[Station]) -> dict[str, Any]:
    """Spell a station table as the form's first values."""
    return {
        name_of(row, column): f"{getattr(station, column).normalize():f}"
        for row, station in enumerate(stations)
        for column, _ in COLUMNS
    }


def _field(label: str, column: str) -> forms.Field:
    if column.endswith("_mm"):
        field: forms.Field = LengthField(label=label, required=False)
        field.widget.attrs["inputmode"] = "decimal"
    else:
        field = NumberField(label=label, required=False)
    field.widget.attrs["aria-label"] = label
    return field
