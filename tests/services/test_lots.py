"""Suppliers, materials, maker's sheets and lots come into the book, or nothing does.

Kinds of inspection document: EN 10204 (rules-and-standards, section 5).
"""

import datetime as dt
from dataclasses import replace
from decimal import Decimal

import pytest

from records.models import (
    Attachment,
    GlueSheet,
    GlueSheetPoint,
    LedgerEntry,
    Lot,
    LotCheck,
    Material,
    NumberSeries,
    Supplier,
)
from records.services import lots
from records.services.refusal import AlreadyDone, Refusal
from tests import factories
from tests.rules.test_files import picture
from tests.services.test_files import Sent

pytestmark = pytest.mark.django_db
D = Decimal
Q = GlueSheetPoint.Quantity
RANGES = {
    "parts_low": D(18),
    "parts_high": D(22),
    "spread_low_gm2": D(240),
    "spread_high_gm2": D(350),
    "pressure_low_pa": D(1_000_000),
    "pressure_high_pa": D(1_400_000),
    "source": "Maker's sheet, March 2026, page 2",
}
POINTS = [(Q.WORKING_LIFE, D(20), D(240)), (Q.WORKING_LIFE, D(25), D(150))]


def refused(do, **kwargs):
    """Do it, and see that it is refused and that nothing at all was written."""
    before = counts()
    with pytest.raises(Refusal) as refusal:
        do(**kwargs)
    assert counts() == before
    return {f.field: f.sentence for f in refusal.value.findings}


def counts():
    tables = (Supplier, Material, GlueSheet, GlueSheetPoint, Lot, LotCheck)
    tables += (LedgerEntry, NumberSeries, Attachment)
    return [table.objects.count() for table in tables]


@pytest.fixture
def birch(shop):
    """A timber to receive."""
    return factories.TimberFactory()


@pytest.fixture
def maker(act):
    """Act as a maker without any authority."""
    return replace(act, by=factories.PersonFactory())


def receive(act, material, **kwargs):
    facts = {"received_on": act.at.date()}
    return lots.receive_lot(act=act, material=material, **{**facts, **kwargs})


def check(act, lot, **kwargs):
    facts = {"accepted": True, "found": "Dry and straight.", "happened_at": act.at}
    return lots.check_lot(act=act, lot=lot, **{**facts, **kwargs})


def test_supplier_is_added_once(act):
    lots.add_supplier(act=act, name="Northern Planks", contact="555 0100")
    assert Supplier.objects.get().in_use
    result = refused(lots.add_supplier, act=act, name="Northern Planks")
    assert result == {"name": "This supplier is in the book already."}


def test_supplier_changes_and_can_be_left(act):
    supplier = factories.SupplierFactory()
    lots.change_supplier(act=act, supplier=supplier, contact="new", in_use=False)
    supplier.refresh_from_db()
    assert (supplier.contact, supplier.in_use) == ("new", False)


def test_material_is_added_once_and_can_be_given_up(act):
    ash = lots.add_material(act=act, kind="timber", name="White ash", hardwood=True)
    assert "name" in refused(
        lots.add_material, act=act, kind="timber", name="White ash"
    )
    lots.set_material_use(act=act, material=ash, in_use=False)
    result = refused(receive, act=act, material=ash)
    assert "does not work with White ash" in result["material"]


def test_material_of_no_known_kind_is_refused(act):
    assert "kind" in refused(lots.add_material, act=act, kind="cheese", name="Edam")


def test_lot_gets_the_next_number_and_waits_for_its_check(act, birch):
    first = receive(
        act, birch, supplier_lot=" A-17 ", document="3.1", quantity="14 boards"
    )
    second = receive(act, birch)
    assert (first.number, second.number) == ("L0001", "L0002")
    assert first.supplier_lot == "A-17"
    assert first.get_document_display() == "3.1 inspection certificate"
    assert first.state == Lot.State.WAITING
    assert LedgerEntry.objects.first().subject == "L0001"


def test_lot_number_on_the_container_may_be_unknown(act, birch):
    assert receive(act, birch, supplier_lot="  ").supplier_lot == ""


def test_lot_of_tomorrow_uses_no_number(act, birch):
    tomorrow = act.at.date() + dt.timedelta(days=1)
    assert "received_on" in refused(
        receive, act=act, material=birch, received_on=tomorrow
    )
    assert receive(act, birch).number == "L0001"


def test_document_of_no_known_kind_is_refused(act, birch):
    assert "document" in refused(receive, act=act, material=birch, document="9.9")


def test_form_that_comes_twice_counts_once(act, birch):
    once = replace(act, form_key="k1")
    receive(once, birch)
    with pytest.raises(AlreadyDone):
        receive(once, birch)
    assert Lot.objects.count() == 1


def test_accepted_lot_is_accepted_and_photographed(act):
    lot = factories.LotFactory(state=Lot.State.WAITING)
    check(act, lot, photo=Sent(picture()))
    lot.refresh_from_db()
    assert lot.state == Lot.State.ACCEPTED
    assert Attachment.objects.get(lot=lot).caption == "Receiving check"
    assert LedgerEntry.objects.count() == 1


def test_refused_lot_may_be_accepted_later_and_both_checks_stay(act):
    lot = factories.LotFactory(state=Lot.State.WAITING)
    check(act, lot, accepted=False, found="Wet: 14 %.")
    check(act, lot, accepted=True, found="Dried to 9 %.")
    assert list(lot.checks.values_list("accepted", flat=True)) == [False, True]
    lot.refresh_from_db()
    assert lot.state == Lot.State.ACCEPTED


def test_check_without_authority_is_refused_whole(maker):
    lot = factories.LotFactory(state=Lot.State.WAITING)
    result = refused(check, act=maker, lot=lot, photo=Sent(picture()))
    assert "no authority to accept lots" in result[""]
    lot.refresh_from_db()
    assert lot.state == Lot.State.WAITING


def test_check_says_what_was_found_and_when(act):
    lot = factories.LotFactory(state=Lot.State.WAITING)
    assert "found" in refused(check, act=act, lot=lot, found="")
    later = act.at + dt.timedelta(hours=1)
    assert "happened_at" in refused(check, act=act, lot=lot, happened_at=later)
    assert "photo" in refused(check, act=act, lot=lot, photo=Sent(b"text"))


def test_closed_lot_is_not_checked_or_opened(act):
    lot = factories.LotFactory()
    lots.close_lot(act=act, lot=lot, state="returned")
    assert "returned to the supplier" in refused(check, act=act, lot=lot)[""]
    day = act.at.date()
    assert refused(lots.open_lot, act=act, lot=lot, opened_on=day)
    assert refused(lots.close_lot, act=act, lot=lot, state="used_up")


def test_container_is_opened_on_one_day(act):
    lot = factories.ResinLotFactory()
    day = act.at.date()
    lots.open_lot(act=act, lot=lot, opened_on=day)
    lot.refresh_from_db()
    assert lot.opened_on == day
    assert "opened_on" in refused(lots.open_lot, act=act, lot=lot, opened_on=day)


def write_sheet(act, adhesive, points=POINTS, hardener=None, **fields):
    return lots.write_glue_sheet(
        act=act,
        adhesive=adhesive,
        hardener=hardener,
        points=points,
        **{**RANGES, **fields},
    )


def test_sheets_of_an_adhesive_are_revisions(act):
    adhesive = factories.AdhesiveFactory()
    first = write_sheet(act, adhesive)
    second = write_sheet(act, adhesive)
    assert (first.revision, second.revision) == (1, 2)
    assert first.points.count() == 2
    assert LedgerEntry.objects.last().subject == f"{adhesive} sheet 2"


def test_sheet_is_written_by_whoever_may_change_limits(maker):
    result = refused(write_sheet, act=maker, adhesive=factories.AdhesiveFactory())
    assert "change limits" in result[""]


def test_slips_in_a_sheet_are_all_named_and_none_is_written(act):
    result = refused(
        write_sheet,
        act=act,
        adhesive=factories.AdhesiveFactory(),
        hardener=factories.AdhesiveFactory(),
        parts_high=D(1),
        points=[(Q.PRESS_TIME, D(20), D(60)), (Q.PRESS_TIME, D(30), D(90))],
    )
    assert set(result) == {"hardener", "parts_high", "press_time"}


def test_negative_spread_is_refused_at_its_field(act):
    result = refused(
        write_sheet,
        act=act,
        adhesive=factories.AdhesiveFactory(),
        spread_low_gm2=D(-1),
    )
    assert result == {"spread_low_gm2": "This can't be less than 0."}
