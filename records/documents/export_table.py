"""A table of the export: words, and words that lead to a file."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from records.queries.provenance.tables import Table

Place = Callable[[str, str], str]
"""Gives the path of a kept file within the export by digest and media type."""


@dataclass(frozen=True, slots=True)
class Linked:
    """A cell that leads to a file of the export."""

    words: str
    href: str


Cell = str | Linked


@dataclass(frozen=True, slots=True)
class Section:
    """A table with its title and the names of its columns."""

    title: str
    columns: Sequence[str]
    rows: Sequence[Sequence[Cell]]


def with_flags(verdict: str, flags: str) -> str:
    """Spell a verdict with what was flagged beside it."""
    return f"{verdict}. {flags}" if flags else verdict


def of_table(table: Table) -> Section:
    """Take a table of a thing's provenance into the export as it is."""
    return Section(table.title, table.columns, [row.cells for row in table.rows])
