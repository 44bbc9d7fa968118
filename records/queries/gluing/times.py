"""The maker's times of a glue at one temperature, read between the table's rows."""

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass, field

from records.engineering.gluing_times import closed_limit_after_open, interpolate_time
from records.models import GlueSheetPoint

Q = GlueSheetPoint.Quantity
Table = list[tuple[float, float]]
_SECONDS = 60


@dataclass(frozen=True, slots=True)
class GlueTimes:
    """The maker's times at one temperature [s]; None where the sheet gives none.

    `unknown` says in sentences which times could not be read, and why.
    """

    working_life_s: float | None = None
    open_most_s: float | None = None
    closed_least_s: float | None = None
    closed_most_s: float | None = None
    unknown: tuple[str, ...] = ()

    def closed_most_after(self, open_used_s: float) -> float | None:
        """Give the longest closed assembly time left after some open time [s].

        A part of the open limit used up takes that part of the closed one; past the
        open limit nothing is left. Without an open limit the sheet's figure stands.
        """
        if not self.closed_most_s or not self.open_most_s:
            return self.closed_most_s
        used = min(open_used_s, self.open_most_s)
        return closed_limit_after_open(used, self.open_most_s, self.closed_most_s)


@dataclass(frozen=True, slots=True)
class GlueTables:
    """The tables of one glue sheet: for each quantity rows of °C and seconds."""

    rows: dict[str, Table] = field(default_factory=dict)

    def at(self, temperature_c: float) -> GlueTimes:
        """Read every time at a temperature; never past the ends of a table."""
        unknown: list[str] = []

        def read(quantity: GlueSheetPoint.Quantity) -> float | None:
            table = self.rows.get(quantity)
            if not table:
                return None
            try:
                return interpolate_time(table, temperature_c)
            except ValueError as error:
                reason = str(error)
                unknown.append(f"{quantity.label.capitalize()} not known: {reason}.")
                return None

        return GlueTimes(
            working_life_s=read(Q.WORKING_LIFE),
            open_most_s=read(Q.OPEN_MOST),
            closed_least_s=read(Q.CLOSED_LEAST),
            closed_most_s=read(Q.CLOSED_MOST),
            unknown=tuple(unknown),
        )

    @property
    def press_time(self) -> Table:
        """Rows of °C and least time under pressure [s]."""
        return self.rows.get(Q.PRESS_TIME, [])


def tables_of(sheets: Collection[int]) -> dict[int, GlueTables]:
    """Read the tables of many sheets, by the sheet's key: one query."""
    tables: dict[int, dict[str, Table]] = {pk: defaultdict(list) for pk in sheets}
    points = GlueSheetPoint.objects.filter(sheet__in=sheets).order_by(
        "sheet_id", "quantity", "temperature_c"
    )
    for point in points:
        row = float(point.temperature_c), float(point.minutes) * _SECONDS
        tables[point.sheet_id][point.quantity].append(row)
    return {pk: GlueTables(dict(rows)) for pk, rows in tables.items()}


def table_of(sheet: int) -> GlueTables:
    """Read the tables of one sheet: one query."""
    return tables_of([sheet])[sheet]


def reach(table: Sequence[tuple[float, float]]) -> str:
    """Spell from which to which temperature a table goes: 15 to 30 °C."""
    return f"{table[0][0]:g} to {table[-1][0]:g} °C"
