"""A delivery and a maker's table are read back before they are written."""

import csv
import datetime as dt
from decimal import Decimal
from pathlib import Path

import pytest

from records.models import GlueSheetPoint, Lot, Material
from records.rules import lots as rules
from tests import factories
from tests.factories import DAY

D = Decimal
LIFE = GlueSheetPoint.Quantity.WORKING_LIFE
BULLETINS = Path("shared/glue_manufacturer_bulletins.csv")
NAMES = {
    "working_life": LIFE,
    "max_open_assembly": GlueSheetPoint.Quantity.OPEN_MOST,
    "max_closed_assembly": GlueSheetPoint.Quantity.CLOSED_MOST,
}


def material(**kwargs):
    return Material(kind="timber", name="Ash", **kwargs)


def lot(**kwargs):
    return Lot(number="L1", received_on=DAY, **kwargs)


def fields(findings):
    return [f.field for f in findings]


def test_delivery_of_today_is_fine():
    assert rules.lot_may_come_in(material(), None, DAY, None, DAY) == []


def test_delivery_of_tomorrow_of_a_material_given_up_from_a_supplier_left():
    supplier = factories.SupplierFactory.build(in_use=False, written_by=None)
    tomorrow = DAY + dt.timedelta(days=1)
    findings = rules.lot_may_come_in(
        material(in_use=False), supplier, tomorrow, dt.date(2066, 1, 1), DAY
    )
    assert fields(findings) == ["received_on", "material", "supplier", "expires_on"]


def test_lot_that_arrives_expired_can_still_be_written_down():
    expired = DAY - dt.timedelta(days=1)
    assert rules.lot_may_come_in(material(), None, DAY, expired, DAY) == []


@pytest.mark.parametrize("state", ["returned", "used_up"])
def test_closed_lot_is_not_checked_or_closed_again(state):
    assert rules.lot_may_be_checked(lot(state=state), DAY)
    assert rules.lot_may_be_closed(lot(state=state), "used_up")


@pytest.mark.parametrize("state", ["waiting", "accepted", "refused"])
def test_open_lot_may_be_checked_again_and_closed(state):
    assert rules.lot_may_be_checked(lot(state=state), DAY) == []
    assert rules.lot_may_be_closed(lot(state=state), "returned") == []


def test_lot_is_closed_only_as_used_up_or_returned():
    assert fields(rules.lot_may_be_closed(lot(), "accepted")) == ["state"]


def test_check_before_the_delivery_is_refused():
    findings = rules.lot_may_be_checked(lot(), DAY - dt.timedelta(days=1))
    assert fields(findings) == ["happened_at"]


def test_opening_asks_for_acceptance_and_a_day_that_can_be():
    early = DAY - dt.timedelta(days=1)
    assert rules.lot_may_be_opened(lot(state="accepted"), DAY, DAY) == []
    assert len(rules.lot_may_be_opened(lot(), early, DAY)) == 2
    opened = lot(state="accepted", opened_on=DAY)
    assert "was opened on" in rules.lot_may_be_opened(opened, DAY, DAY)[0].sentence
    late = DAY + dt.timedelta(days=1)
    assert rules.lot_may_be_opened(lot(state="accepted"), late, DAY)


def test_sheet_is_for_an_adhesive_and_a_hardener():
    adhesive = Material(kind="adhesive", name="Resin")
    hardener = Material(kind="hardener", name="Powder")
    assert rules.sheet_is_for(adhesive, hardener) == []
    assert rules.sheet_is_for(adhesive, None) == []
    assert fields(rules.sheet_is_for(hardener, adhesive)) == ["adhesive", "hardener"]


def bulletin():
    """Read the resorcinol bulletin reprinted in the Falco manual, App. D, rev. 4."""
    with BULLETINS.open() as file:
        rows = csv.DictReader(line for line in file if not line.startswith("#"))
        for row in rows:
            if row["glue"] == "RF G-1131" and row["quantity"] in NAMES:
                minutes = D(row["value"]) * (60 if row["unit"] == "h" else 1)
                yield NAMES[row["quantity"]], D(row["temp_c"]), minutes


def test_published_bulletin_reads_as_a_table():
    points = list(bulletin())
    assert len(points) == 14
    assert rules.table_reads_as_a_makers(points) == []


def test_two_figures_swapped_in_the_bulletin_are_found():
    points = list(bulletin())
    (q, cool, long), (_, warm, short) = points[0], points[1]
    points[:2] = [(q, cool, short), (q, warm, long)]
    (finding,) = rules.table_reads_as_a_makers(points)
    assert finding.field == LIFE
    assert "450\xa0min at 21.1\xa0°C is more than 225\xa0min" in finding.sentence


def test_empty_table_is_refused():
    assert fields(rules.table_reads_as_a_makers([])) == [LIFE]


@pytest.mark.parametrize(
    ("points", "word"),
    [
        ([(LIFE, D(20), D(60)), (LIFE, D(20), D(60))], "stands twice"),
        ([(LIFE, D(20), D(-1))], "less than nothing"),
        ([(LIFE, D(180), D(5))], "unit of the temperatures"),
        ([(LIFE, D(-21), D(5))], "unit of the temperatures"),
    ],
)
def test_table_with_a_slip_is_refused_at_its_quantity(points, word):
    (finding,) = rules.table_reads_as_a_makers(points)
    assert word in finding.sentence
    assert finding.field == LIFE


def test_constant_time_is_allowed():
    points = [(LIFE, D(15), D(60)), (LIFE, D(20), D(60))]
    assert rules.table_reads_as_a_makers(points) == []


def test_range_the_wrong_way_round_is_found_at_its_upper_end():
    findings = rules.sides_are_in_order({"parts_low": D(22), "parts_high": D(18)})
    assert fields(findings) == ["parts_high"]
    assert rules.sides_are_in_order({"parts_low": D(20), "parts_high": D(20)}) == []


def test_time_that_no_table_has_is_refused():
    (finding,) = rules.table_reads_as_a_makers([("shelf", D(20), D(60))])
    assert (finding.field, '"shelf"' in finding.sentence) == ("points", True)
