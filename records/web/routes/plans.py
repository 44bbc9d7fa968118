"""Changing one thing in a plan: a stage or a reading, put in its place or taken out."""

from typing import Any

from records.queries.routes.plans import Plan

Row = dict[str, Any]


def placed(rows: list[Row], row: Row, place: int, *, instead_of: str = "") -> list[Row]:
    """Put a row at a place (from 1), in place of the one with a code if it is named."""
    others = [r for r in rows if r["code"] != instead_of] if instead_of else [*rows]
    at = min(max(place, 1), len(others) + 1) - 1
    return [*others[:at], row, *others[at:]]


def without(rows: list[Row], code: str) -> list[Row]:
    """Take a row out."""
    return [row for row in rows if row["code"] != code]


def with_characteristics(plan: Plan, stage: str, characteristics: list[Row]) -> Plan:
    """Give a stage other readings; the rest of the plan stays."""
    return [
        {**row, "characteristics": characteristics} if row["code"] == stage else row
        for row in plan
    ]


def find_row(rows: list[Row], code: str) -> tuple[Row, int] | None:
    """Find a row and its place (from 1) by its code."""
    for place, row in enumerate(rows, start=1):
        if row["code"] == code:
            return row, place
    return None
