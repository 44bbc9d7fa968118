"""A printed form: sections of rows of numbered cells, each with words or a table."""

from collections.abc import Sequence
from dataclasses import dataclass, field

OPEN = "\N{EN DASH}"


@dataclass(frozen=True, slots=True)
class Table:
    """A small table in a cell; `shares` weighs the widths of its columns."""

    head: Sequence[str]
    rows: Sequence[Sequence[str]]
    shares: Sequence[int] = ()

    @property
    def widths(self) -> list[str]:
        """Give each column's width in per cent."""
        shares = list(self.shares) or [1] * len(self.head)
        return [f"{100 * share / sum(shares):.2f}" for share in shares]

    @property
    def columns(self) -> list[tuple[str, str]]:
        """Pair each heading with its width."""
        return list(zip(self.head, self.widths, strict=True))


@dataclass(frozen=True, slots=True)
class Cell:
    """One field of a form: its number, what it asks, and what stands in it."""

    number: str
    label: str
    lines: Sequence[str] = ()
    share: int = 1
    table: Table | None = None
    strong: bool = False
    picture: str = ""
    blank_mm: int = 0

    @property
    def words(self) -> list[str]:
        """Give the lines that say something, or a dash where nothing does."""
        said = [line for line in self.lines if line]
        silent = not said and self.table is None and not self.blank_mm
        return [OPEN] if silent and not self.picture else said


@dataclass(frozen=True, slots=True)
class Section:
    """A part of a form under one heading."""

    title: str
    rows: Sequence[Sequence[Cell]]
    caution: str = ""
    new_page: bool = False
    notes: Sequence[str] = field(default_factory=list)
