"""Read the whole book as it is at one moment, while others go on writing."""

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection

BEGIN = {
    "sqlite": "BEGIN DEFERRED",
    "postgresql": "BEGIN ISOLATION LEVEL REPEATABLE READ, READ ONLY",
}


@contextmanager
def one_moment() -> Iterator[None]:
    """Hold a read transaction: it sees no later entry, and keeps nobody waiting.

    A transaction of Django's would take the pen, as those that write must.
    """
    if connection.in_atomic_block:
        yield
        return
    _run(BEGIN[connection.vendor])
    try:
        yield
    finally:
        _run("ROLLBACK")


def _run(statement: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(statement)
