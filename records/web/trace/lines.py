"""Lines of a trace: ready strings for a list, each with its shape and word."""

from dataclasses import dataclass

from django.db.models import Model
from django.urls import reverse

from records.models import Deviation, Reading
from records.queries.provenance.tables import Row, Table
from records.spelling.numbers import NOTHING
from records.spelling.verdicts import Verdict
from records.web.shared.evidence import ReadingLine, reading_lines
from records.web.shared.pages import page_of


@dataclass(frozen=True, slots=True)
class TraceLine:
    """One line: its heading, where that leads, what is said of it, and its verdict."""

    head: str
    url: str = ""
    about: str = ""
    verdict: str = ""
    word: str = ""


@dataclass(frozen=True, slots=True)
class StageReadings:
    """The readings of one stage, with their sum in a few words."""

    name: str
    sum: Verdict
    lines: list[ReadingLine]


def section_of(table: Table) -> tuple[str, list[TraceLine]]:
    """Spell a table as lines: what names a row first, the rest behind it."""
    return table.title, [_line(table, row) for row in table.rows]


def _line(table: Table, row: Row) -> TraceLine:
    verdict = row.verdict
    end = len(row.cells) - (1 if table.judged else 0)
    rest = zip(
        table.columns[table.names : end], row.cells[table.names : end], strict=True
    )
    said = [
        f"{name.lower()} {cell}" for name, cell in rest if cell not in {"", NOTHING}
    ]
    said += [verdict.detail] if verdict and verdict.detail else []
    name = table.columns[0] if table.names == 1 else ""
    return TraceLine(
        head=" ".join([name, *row.cells[: table.names]]).strip(),
        url=url_of(row.thing),
        about=", ".join(said),
        verdict=verdict.shape if verdict else "",
        word=verdict.word if verdict else "",
    )


def url_of(thing: Model | None) -> str:
    """Give the page of what a row is about; nothing where it has none."""
    if isinstance(thing, Deviation):
        return reverse("deviations:deviation", args=[thing.number])
    return page_of(thing) if thing is not None else ""


def readings_by_stage(readings: list[Reading]) -> list[StageReadings]:
    """Group the readings that stand by stage, in the order of the route."""
    groups: dict[tuple[int, str], list[Reading]] = {}
    for reading in filter(stands, readings):
        stage = reading.characteristic.stage
        groups.setdefault((stage.order, stage.name), []).append(reading)
    return [
        StageReadings(name, sum_of(group), reading_lines(group))
        for (_, name), group in sorted(groups.items(), key=lambda item: item[0])
    ]


def stands(reading: Reading) -> bool:
    """Tell whether a reading was neither corrected nor withdrawn since."""
    withdrawn = reading.verdict == Reading.Verdict.WITHDRAWN
    return not withdrawn and not hasattr(reading, "corrected_by")


def sum_of(readings: list[Reading]) -> Verdict:
    """Sum readings up in words, and give the shape of the worst."""
    count = len(readings)
    number = f"{count} reading{'s' if count > 1 else ''}"
    for verdict in (Reading.Verdict.OUTSIDE, Reading.Verdict.UNDECIDED):
        bad = sum(reading.verdict == verdict for reading in readings)
        if bad:
            return Verdict(verdict.value, f"{number}, {bad} {verdict.label}")
    inside = any(r.verdict == Reading.Verdict.INSIDE for r in readings)
    return (
        Verdict("inside", f"{number}, none outside")
        if inside
        else Verdict("no_limit", number)
    )
