"""The guards stand on every table and bite, whatever the statement."""

import pytest
from django.db import IntegrityError, connection, transaction
from django.db.utils import DatabaseError

from records import models
from records.models import LedgerEntry
from records.models.corrections import CORRECTED_KINDS
from records.models.guards import (
    MESSAGE,
    corrected_columns,
    correction_column,
    fixed_columns,
    guard_names,
    guarded_models,
    install_guards,
    missing_guards,
)
from tests import factories

FACTORIES = {
    f._meta.model: f
    for f in vars(factories).values()
    if isinstance(f, type)
    and issubclass(f, factories.RowFactory)
    and not f._meta.abstract
}


def refused(statement):
    with (
        pytest.raises(DatabaseError, match=MESSAGE),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(statement)


@pytest.mark.django_db
def test_every_guard_stands():
    assert missing_guards() == []


@pytest.mark.django_db
def test_a_dropped_guard_is_missed_and_put_back():
    model = LedgerEntry
    name = guard_names(model)[0]
    on = "" if connection.vendor == "sqlite" else f" ON {model._meta.db_table}"
    with connection.cursor() as cursor:
        cursor.execute(f"DROP TRIGGER {name}{on}")
    assert missing_guards() == [name]
    install_guards()
    assert missing_guards() == []


def point():
    return factories.GlueSheetFactory().points.first()


def station():
    return factories.RevisionFactory().stations.first()


def on_a_board(make):
    return lambda: make(board=factories.BoardFactory())


def stage_event():
    return factories.StageEventFactory(propeller=factories.PropellerFactory())


MADE = FACTORIES | {
    models.StageEvent: stage_event,
    models.GlueSheetPoint: point,
    models.Station: station,
    models.Hold: on_a_board(factories.HoldFactory),
    models.Tag: on_a_board(factories.TagFactory),
    models.Correction: on_a_board(factories.CorrectionFactory),
}
GUARDED = [pytest.param(model, id=model.__name__) for model in guarded_models()]


@pytest.mark.parametrize("model", GUARDED)
@pytest.mark.django_db
def test_guard_bites_on_update_and_delete(model, shop):
    row = MADE[model]() if model in MADE else raw_row(model)
    table = model._meta.db_table
    refused(f"DELETE FROM {table} WHERE id = {row.pk}")
    refused(f"UPDATE {table} SET id = id + 100000 WHERE id = {row.pk}")
    assert "written_at" in fixed_columns(model)
    refused(f"UPDATE {table} SET written_at = '2001-01-01' WHERE id = {row.pk}")


def raw_row(model):
    """Insert a row past its rules, only to see that it can't leave again."""
    person = factories.PersonFactory()
    row = model()
    for field in model._meta.concrete_fields:
        if field.primary_key:
            continue
        if field.is_relation:
            value = None if field.null else relation_for(field, person)
            setattr(row, field.attname, value)
        elif field.null or field.has_default():
            continue
        else:
            setattr(row, field.name, plain_for(field))
    _fill_subject(row)
    row.save()
    return row


def relation_for(field, person):
    related = field.related_model
    if related.__name__ == "Person":
        return person.pk
    return (MADE[related]() if related in MADE else raw_row(related)).pk


def plain_for(field):
    kinds = {
        "DateTimeField": factories.NOON,
        "DateField": factories.DAY,
        "DecimalField": 1,
        "FloatField": 1.0,
        "PositiveSmallIntegerField": 1,
        "PositiveIntegerField": 1,
        "PositiveBigIntegerField": 1,
        "BooleanField": True,
    }
    return kinds.get(field.get_internal_type(), "x")


def _fill_subject(row):
    if hasattr(row, "subject_kinds"):
        row.board = factories.BoardFactory()
    elif hasattr(row, "propeller_id") and row.propeller_id is None:
        row.propeller = factories.PropellerFactory()


@pytest.mark.django_db
def test_a_thing_changes_only_in_its_state():
    lot = factories.LotFactory()
    lot.state = "used_up"
    lot.save(update_fields=["state"])
    lot.number = "L9999"
    with pytest.raises((IntegrityError, DatabaseError)), transaction.atomic():
        lot.save(update_fields=["number"])


@pytest.mark.django_db
def test_what_was_typed_changes_only_beside_its_own_correction():
    lot, other = factories.LotFactory(), factories.LotFactory()
    table = lot._meta.db_table
    change = f"UPDATE {table} SET supplier_lot = 'X', corrections = corrections + 1"
    refused(f"UPDATE {table} SET supplier_lot = 'X' WHERE id = {lot.pk}")
    refused(f"{change} WHERE id = {lot.pk}")
    factories.CorrectionFactory(lot=lot)
    refused(f"{change} WHERE id = {other.pk}")
    with connection.cursor() as cursor:
        cursor.execute(f"{change} WHERE id = {lot.pk}")
    refused(f"{change} WHERE id = {lot.pk}")
    lot.refresh_from_db()
    assert (lot.supplier_lot, lot.corrections) == ("X", 1)


@pytest.mark.django_db
def test_every_correctable_table_has_a_column_of_the_corrections():
    tables = [m for m in guarded_models() if corrected_columns(m)]
    assert len(tables) == len(CORRECTED_KINDS)
    assert sorted(correction_column(m) for m in tables) == sorted(
        f"{kind}_id" for kind in CORRECTED_KINDS
    )
    with pytest.raises(LookupError, match="LedgerEntry"):
        correction_column(LedgerEntry)
