"""Change the book behind the program's back, as somebody with the database may."""

from contextlib import contextmanager

from django.db import connection

from records.models.guards import install_guards, remove_guards


@contextmanager
def unguarded():
    """Take the guards down for a while."""
    _settle()
    remove_guards()
    yield
    _settle()
    install_guards()


def forge(statement, *values):
    """Run a statement that the guards would refuse."""
    with unguarded(), connection.cursor() as cursor:
        cursor.execute(statement, values or None)


def _settle():
    """Check what was deferred: PostgreSQL changes no table with checks pending."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
            cursor.execute("SET CONSTRAINTS ALL DEFERRED")
