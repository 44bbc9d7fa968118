"""What a lot and a maker's table must be like before they are written."""

import datetime as dt
from collections import Counter
from collections.abc import Mapping, Sequence
from decimal import Decimal
from itertools import groupby, pairwise
from typing import Any

from records.models import GlueSheetPoint, Lot, Material, Supplier
from records.rules.finding import Finding
from records.rules.moments import day_has_come
from records.spelling.moments import day
from records.spelling.numbers import plain
from records.spelling.quantities import in_unit

LONGEST_LIFE = dt.timedelta(days=20 * 366)
CLOSED = (Lot.State.RETURNED, Lot.State.USED_UP)
COLDEST_C, HOTTEST_C = Decimal(-20), Decimal(120)
RANGES = (
    ("parts_low", "parts_high"),
    ("spread_low_gm2", "spread_high_gm2"),
    ("pressure_low_pa", "pressure_high_pa"),
)

Point = tuple[str, Decimal, Decimal]
"""Quantity, temperature [°C] and time [min]: one cell of a maker's table."""


def lot_may_come_in(
    material: Material,
    supplier: Supplier | None,
    received_on: dt.date,
    expires_on: dt.date | None,
    today: dt.date,
) -> list[Finding]:
    """Say what speaks against a delivery as it was entered."""
    findings = day_has_come(received_on, today, "received_on")
    if not material.in_use:
        findings.append(
            Finding(f"The shop does not work with {material} any more.", "material")
        )
    if supplier is not None and not supplier.in_use:
        findings.append(
            Finding(f"The shop does not buy from {supplier} any more.", "supplier")
        )
    if expires_on and expires_on > received_on + LONGEST_LIFE:
        findings.append(
            Finding(
                f"Usable until {day(expires_on)} is more than twenty years. "
                "Check the year.",
                "expires_on",
            )
        )
    return findings


def lot_may_be_checked(lot: Lot, happened_on: dt.date) -> list[Finding]:
    """Say why a lot can't have a receiving check."""
    findings = []
    if lot.state in CLOSED:
        findings.append(
            Finding(
                f"Lot {lot} is {lot.get_state_display()}; it is not checked any more."
            )
        )
    if happened_on < lot.received_on:
        findings.append(
            Finding(
                f"Lot {lot} was received on {day(lot.received_on)}; "
                "it can't have been checked before.",
                "happened_at",
            )
        )
    return findings


def lot_may_be_opened(lot: Lot, opened_on: dt.date, today: dt.date) -> list[Finding]:
    """Say why a container can't be noted as opened on a day."""
    findings = day_has_come(opened_on, today, "opened_on")
    if lot.state != Lot.State.ACCEPTED:
        findings.append(
            Finding(
                f"Lot {lot} is {lot.get_state_display()}. "
                "Only an accepted lot is opened for use."
            )
        )
    if lot.opened_on:
        findings.append(
            Finding(f"Lot {lot} was opened on {day(lot.opened_on)}.", "opened_on")
        )
    if opened_on < lot.received_on:
        findings.append(
            Finding(
                f"Lot {lot} was received on {day(lot.received_on)}; "
                "it can't have been opened before.",
                "opened_on",
            )
        )
    return findings


def lot_may_be_closed(lot: Lot, state: str) -> list[Finding]:
    """Say why a lot can't be closed to use as used up or returned."""
    if state not in CLOSED:
        return [Finding("A lot is closed as used up or as returned.", "state")]
    if lot.state in CLOSED:
        return [Finding(f"Lot {lot} is {lot.get_state_display()} already.", "state")]
    return []


def sheet_is_for(adhesive: Material, hardener: Material | None) -> list[Finding]:
    """Say why a sheet can't be written for these two materials."""
    findings = []
    if adhesive.kind != Material.Kind.ADHESIVE:
        findings.append(Finding(f"{adhesive} is not an adhesive.", "adhesive"))
    if hardener is not None and hardener.kind != Material.Kind.HARDENER:
        findings.append(Finding(f"{hardener} is not a hardener.", "hardener"))
    return findings


def table_reads_as_a_makers(points: Sequence[Point]) -> list[Finding]:
    """Say what is wrong in a maker's table: each finding at its quantity."""
    if not points:
        empty = "Enter at least one time of the maker's table, at its temperature."
        return [Finding(empty, GlueSheetPoint.Quantity.WORKING_LIFE)]
    findings: list[Finding] = []
    for quantity, rows in groupby(sorted(points), key=lambda point: point[0]):
        if quantity not in GlueSheetPoint.Quantity.values:
            findings.append(Finding(f'A maker\'s table has no "{quantity}".', "points"))
            continue
        column = [(celsius, minutes) for _, celsius, minutes in rows]
        findings += _column(GlueSheetPoint.Quantity(quantity), column)
    return findings


def _column(
    quantity: GlueSheetPoint.Quantity, column: list[tuple[Decimal, Decimal]]
) -> list[Finding]:
    findings = [
        Finding(f"{in_unit(celsius, 'degC')} stands twice.", quantity)
        for celsius, times in Counter(celsius for celsius, _ in column).items()
        if times > 1
    ]
    findings += [
        Finding(
            f"{in_unit(celsius, 'degC')} is outside {COLDEST_C} to "
            f"{in_unit(HOTTEST_C, 'degC')}. "
            "Check the unit of the temperatures.",
            quantity,
        )
        for celsius, _ in column
        if not COLDEST_C <= celsius <= HOTTEST_C
    ]
    findings += [
        Finding(f"{minutes} minutes is less than nothing.", quantity)
        for _, minutes in column
        if minutes < 0
    ]
    findings += [
        Finding(
            f"{in_unit(longer, 'min')} at {in_unit(warm, 'degC')} is more than "
            f"{in_unit(shorter, 'min')} at {in_unit(cool, 'degC')}. "
            "Glue is quicker in the warm: check both against the maker's sheet.",
            quantity,
        )
        for (cool, shorter), (warm, longer) in pairwise(column)
        if cool < warm and longer > shorter
    ]
    return findings


def sides_are_in_order(ranges: Mapping[str, Any]) -> list[Finding]:
    """Say which range of a glue sheet has its least above its most."""
    return [
        Finding(f"The most is less than the least, {plain(ranges[low])}.", high)
        for low, high in RANGES
        if _is_less(ranges.get(high), ranges.get(low))
    ]


def _is_less(high: Decimal | None, low: Decimal | None) -> bool:
    return high is not None and low is not None and high < low
