"""Database triggers: records never change, things only in their state fields.

They are put up after every migrate, from one list, because a later migration that
remakes a SQLite table drops its triggers without a word.
"""

from collections.abc import Iterable, Iterator
from typing import Any

from django.apps import apps
from django.db import connections
from django.db.backends.base.base import BaseDatabaseWrapper

from records.models.base import Correctable, Row

MESSAGE = "the book is append-only"


def guarded_models() -> list[type[Row]]:
    """Every model with a guard, by table name."""
    everything = apps.get_app_config("records").get_models()
    rows = [m for m in everything if issubclass(m, Row)]
    return sorted(rows, key=lambda m: m._meta.db_table)


def fixed_columns(model: type[Row]) -> list[str]:
    """Name the columns that no update may change."""
    free = {*getattr(model, "state_fields", ()), *_corrected_fields(model)}
    fields = model._meta.concrete_fields
    return [str(f.column) for f in fields if f.name not in free]


def corrected_columns(model: type[Row]) -> list[str]:
    """Name the columns that change only together with a correction beside the row."""
    only = set(_corrected_fields(model)) - set(getattr(model, "state_fields", ()))
    return [str(f.column) for f in model._meta.concrete_fields if f.name in only]


def _corrected_fields(model: type[Row]) -> tuple[str, ...]:
    if not issubclass(model, Correctable):
        return ()
    return (*model.typed_fields, *model.derived_fields, "corrections")


def install_guards(using: str = "default", **_: Any) -> None:
    """Put up every guard, replacing those that stand."""
    connection = connections[using]
    with connection.cursor() as cursor:
        for statement in _statements(connection):
            cursor.execute(statement)


def remove_guards(using: str = "default") -> None:
    """Take every guard down (only a test's clean-up does this)."""
    connection = connections[using]
    with connection.cursor() as cursor:
        for model in guarded_models():
            for name in guard_names(model):
                cursor.execute(_drop(connection, name, model._meta.db_table))


def missing_guards(using: str = "default") -> list[str]:
    """Name every guard that is not in the database, or not switched on."""
    connection = connections[using]
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        else:
            cursor.execute("SELECT tgname FROM pg_trigger WHERE tgenabled = 'A'")
        standing = {row[0] for row in cursor.fetchall()}
    return [n for m in guarded_models() for n in guard_names(m) if n not in standing]


def guard_names(model: type[Row]) -> tuple[str, ...]:
    """Name the triggers of a table: no update, no delete, no change uncorrected."""
    table = model._meta.db_table
    names = (f"{table}_keep_update", f"{table}_keep_delete")
    return (*names, f"{table}_keep_typed") if corrected_columns(model) else names


def _statements(connection: BaseDatabaseWrapper) -> Iterator[str]:
    sqlite = connection.vendor == "sqlite"
    if not sqlite:
        yield (
            "CREATE OR REPLACE FUNCTION keep_the_book() RETURNS trigger AS "
            f"$$ BEGIN RAISE EXCEPTION '{MESSAGE}: %', TG_TABLE_NAME "
            "USING ERRCODE = 'integrity_constraint_violation'; END $$ "
            "LANGUAGE plpgsql"
        )
    for model in guarded_models():
        table = model._meta.db_table
        update, delete, *typed = guard_names(model)
        for name in (update, delete, *typed):
            yield _drop(connection, name, table)
        create = _create_on_sqlite if sqlite else _create_on_postgresql
        allow = _allow_on_sqlite if sqlite else _allow_on_postgresql
        differs = "IS NOT" if sqlite else "IS DISTINCT FROM"
        changed = _changed(fixed_columns(model), differs)
        yield from create(table, update, "UPDATE", changed)
        yield from create(table, delete, "DELETE", "")
        for name in typed:
            changed = _changed(corrected_columns(model), differs)
            yield from allow(table, name, changed, correction_column(model))


def _changed(columns: Iterable[str], differs: str) -> str:
    parts = " OR ".join(f'OLD."{c}" {differs} NEW."{c}"' for c in columns)
    return f"WHEN ({parts})"


def _create_on_sqlite(
    table: str, name: str, verb: str, when: str, unless: str = ""
) -> Iterator[str]:
    yield (
        f"CREATE TRIGGER {name} BEFORE {verb} ON {table} FOR EACH ROW {when} "
        f"BEGIN SELECT RAISE(ABORT, '{MESSAGE}: {table}'){unless}; END"
    )


def _create_on_postgresql(
    table: str, name: str, verb: str, when: str, function: str = "keep_the_book"
) -> Iterator[str]:
    yield (
        f"CREATE TRIGGER {name} BEFORE {verb} ON {table} FOR EACH ROW {when} "
        f"EXECUTE FUNCTION {function}()"
    )
    yield f"ALTER TABLE {table} ENABLE ALWAYS TRIGGER {name}"


def correction_column(model: type[Row]) -> str:
    """Name the column of a correction that points to a model's rows."""
    corrections = apps.get_model("records", "Correction")
    for field in corrections._meta.concrete_fields:
        if field.related_model is model:
            return str(field.column)
    raise LookupError(f"no correction points to {model.__name__}")


def _beside(column: str) -> str:
    """Build the condition that the next correction of a row stands beside it."""
    return (
        "NEW.corrections = OLD.corrections + 1 AND EXISTS (SELECT 1 FROM "
        f'records_correction WHERE "{column}" = NEW.id AND number = NEW.corrections)'
    )


def _allow_on_sqlite(table: str, name: str, when: str, column: str) -> Iterator[str]:
    unless = f" WHERE NOT ({_beside(column)})"
    yield from _create_on_sqlite(table, name, "UPDATE", when, unless)


def _allow_on_postgresql(
    table: str, name: str, when: str, column: str
) -> Iterator[str]:
    yield (
        f"CREATE OR REPLACE FUNCTION {name}() RETURNS trigger AS $$ BEGIN "
        f"IF NOT ({_beside(column)}) THEN RAISE EXCEPTION '{MESSAGE}: %', "
        "TG_TABLE_NAME USING ERRCODE = 'integrity_constraint_violation'; END IF; "
        "RETURN NEW; END $$ LANGUAGE plpgsql"
    )
    yield from _create_on_postgresql(table, name, "UPDATE", when, name)


def _drop(connection: BaseDatabaseWrapper, name: str, table: str) -> str:
    suffix = "" if connection.vendor == "sqlite" else f" ON {table}"
    return f"DROP TRIGGER IF EXISTS {name}{suffix}"
