"""What can never be false about suppliers, materials and lots.

Kinds of inspection document: EN 10204 (rules-and-standards, section 5).
"""

import pytest
from django.db import DatabaseError, IntegrityError, transaction

from records.models import Lot, Material, Supplier
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
    for field, value in (("number", "L9999"), ("expires_on", factories.DAY)):
        refused(lot, **{field: value})


def test_what_was_left_or_given_up_is_left_out():
    supplier = factories.SupplierFactory()
    factories.SupplierFactory(in_use=False)
    timber = factories.TimberFactory()
    factories.TimberFactory(in_use=False)
    assert list(Supplier.objects.in_use()) == [supplier]
    assert list(Material.objects.in_use()) == [timber]


def test_documents_of_a_lot_are_those_of_the_standard():
    assert [d.value for d in Lot.Document] == ["none", "2.1", "2.2", "3.1", "3.2"]


def test_whole_lots_need_no_second_query(django_assert_num_queries):
    factories.MixFactory()
    with django_assert_num_queries(1):
        for lot in Lot.objects.with_related():
            assert lot.material.name
            assert lot.supplier.name
            assert lot.written_by.name
