"""What can never be false about suppliers, materials, glue sheets and lots.

Kinds of inspection document: EN 10204 (rules-and-standards, section 5).
"""

import pytest
from django.core.exceptions import ValidationError
from django.db import DatabaseError, IntegrityError, transaction

from records.models import GlueSheetPoint, Lot, Material, Supplier
from tests import factories

pytestmark = pytest.mark.django_db


def refused(row, **fields):
    """Change a thing, and see that the database does not let it."""
    for name, value in fields.items():
        setattr(row, name, value)
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic():
        row.save(update_fields=list(fields))


def test_names_of_suppliers_and_materials_are_given_once():
    supplier, timber = factories.SupplierFactory(), factories.TimberFactory()
    for make, row in (
        (factories.SupplierFactory, supplier),
        (factories.AdhesiveFactory, timber),
    ):
        with pytest.raises(IntegrityError), transaction.atomic():
            make(name=row.name)


def test_a_lot_number_is_given_once():
    lot = factories.LotFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.LotFactory(number=lot.number)


def test_a_lot_changes_in_its_state_and_opening_only():
    lot = factories.LotFactory()
    Lot.objects.filter(pk=lot.pk).update(state="used_up", opened_on=factories.DAY)
    for field, value in (("supplier_lot", "other"), ("expires_on", factories.DAY)):
        refused(lot, **{field: value})


def test_what_was_left_or_given_up_is_left_out():
    supplier = factories.SupplierFactory()
    factories.SupplierFactory(in_use=False)
    timber = factories.TimberFactory()
    factories.TimberFactory(in_use=False)
    assert list(Supplier.objects.in_use()) == [supplier]
    assert list(Material.objects.in_use()) == [timber]


@pytest.mark.parametrize(
    ("low", "high"),
    [
        ("parts_low", "parts_high"),
        ("spread_low_gm2", "spread_high_gm2"),
        ("pressure_low_pa", "pressure_high_pa"),
    ],
)
def test_a_range_of_a_sheet_is_in_order(low, high):
    factories.GlueSheetFactory(**{low: 5, high: 5})
    with pytest.raises(IntegrityError, match="glue_sheet_ranges_in_order"):
        factories.GlueSheetFactory(**{low: 6, high: 5})


def test_a_sheet_has_no_negative_figure():
    sheet = factories.GlueSheetFactory()
    sheet.spread_low_gm2 = -1
    with pytest.raises(ValidationError, match="can't be less than 0"):
        sheet.full_clean()


def test_a_revision_of_a_sheet_is_written_once():
    sheet = factories.GlueSheetFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.GlueSheetFactory(adhesive=sheet.adhesive)


def test_a_table_gives_one_time_at_a_temperature_and_none_below_zero():
    point = factories.GlueSheetFactory().points.first()
    same = {"sheet": point.sheet, "quantity": point.quantity}
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.GlueSheetPointFactory(
            **same, temperature_c=point.temperature_c, minutes=1
        )
    with pytest.raises(IntegrityError, match="glue_time_not_negative"):
        factories.GlueSheetPointFactory(**same, temperature_c=99, minutes=-1)


def test_rows_are_called_by_what_a_maker_calls_them():
    sheet = factories.GlueSheetFactory(source="Bulletin 7")
    point = sheet.points.get(quantity="working_life", temperature_c=20)
    assert str(sheet) == "Bulletin 7, sheet 1"
    assert str(point) == "working life at 20.0 °C"
    assert GlueSheetPoint.Quantity.PRESS_TIME.label == "least time under pressure"
    assert [d.value for d in Lot.Document] == ["none", "2.1", "2.2", "3.1", "3.2"]


def test_whole_lots_and_sheets_need_no_second_query(django_assert_num_queries):
    factories.MixFactory()
    with django_assert_num_queries(1):
        for lot in Lot.objects.with_related():
            assert lot.material.name
            assert lot.supplier.name
            assert lot.written_by.name
