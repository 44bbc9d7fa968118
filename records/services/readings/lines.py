"""Lines of a readings file: each becomes a reading to be checked, or a problem."""

import csv
import datetime as dt
import io
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Final

from django.db.models import Model
from django.utils import timezone

from records.models import Characteristic, Gauge, Station
from records.queries.provenance.loading import provenance_of
from records.queries.provenance.made_of import Provenance
from records.queries.readings.characteristics import characteristics_of
from records.queries.subjects import MODELS, number_field
from records.rules.finding import Finding
from records.rules.readings.draft import Draft
from records.services.refusal import Refusal, refuse

NEEDED: Final = ("kind", "number", "stage", "characteristic", "entered", "happened_at")
ALLOWED: Final = (*NEEDED, "unit", "gauge", "blade", "station", "joint", "point")
MOST_LINES: Final = 5000
LONGEST_POINT: Final = 40


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """A line of the file: its number, and its cells by column."""

    number: int
    cells: dict[str, str]

    def wrong(self, sentence: str) -> Finding:
        """Name a problem by the line's number."""
        return Finding(f"Line {self.number}: {sentence}")


@dataclass(slots=True)
class Batch:
    """The lines about one thing, with their drafts as far as they can be read."""

    thing: Model
    lines: list[ReadingRow] = field(default_factory=list)
    drafts: list[Draft] = field(default_factory=list)


def read_lines(text: str) -> list[ReadingRow]:
    """Split a file into lines; commas or semicolons separate, the first line names.

    Raises `Refusal` where the file as a whole can't be read.
    """
    rows = _rows(text.lstrip("\ufeff"))
    names = [c.strip().lower() for c in rows[0][1]] if rows else []
    problems = [Finding(f"Column {n} is missing.") for n in NEEDED if n not in names]
    problems += [
        Finding(f"Column {n!r} is not known.") for n in names if n not in ALLOWED
    ]
    if len(rows) > MOST_LINES:
        problems.append(
            Finding(f"The file has more than {MOST_LINES} lines: split it.")
        )
    if len(rows) == 1:
        problems.append(Finding("The file has no line besides its first."))
    if problems:
        raise Refusal(problems)
    empty = dict.fromkeys(names, "")
    return [
        ReadingRow(number, empty | dict(zip(names, map(str.strip, row), strict=False)))
        for number, row in rows[1:]
    ]


def _rows(text: str) -> list[tuple[int, list[str]]]:
    """Split a text into rows with their line numbers, empty ones left out."""
    separator = ";" if ";" in text.split("\n", 1)[0] else ","
    reader = csv.reader(io.StringIO(text), delimiter=separator)
    try:
        return [(reader.line_num, row) for row in reader if any(map(str.strip, row))]
    except csv.Error as error:
        sentence = f"The file can't be read from line {reader.line_num} on: {error}."
        raise refuse(sentence) from error


def batches_of(lines: list[ReadingRow]) -> tuple[list[Batch], list[Finding]]:
    """Sort lines by the thing they are about, one query a kind of thing."""
    findings: list[Finding] = []
    things = _things(lines)
    batches: dict[tuple[str, str], Batch] = {}
    for line in lines:
        key = line.cells["kind"].lower(), line.cells["number"].upper()
        thing = things.get(key)
        if thing is None:
            kind, number = line.cells["kind"], line.cells["number"]
            findings.append(line.wrong(f"there is no {kind} {number} in the book."))
        else:
            batches.setdefault(key, Batch(thing)).lines.append(line)
    return list(batches.values()), findings


def add_drafts(batch: Batch, gauges: dict[str, Gauge]) -> list[Finding]:
    """Read the lines of a batch as drafts; give what can't be read, by line."""
    kind = batch.lines[0].cells["kind"].lower()
    provenance = provenance_of(batch.thing)
    characteristics = {
        (c.stage.code, c.code): c for c in characteristics_of(kind, provenance.routes)
    }
    findings: list[Finding] = []
    good: list[ReadingRow] = []
    for line in batch.lines:
        try:
            batch.drafts.append(
                _draft(batch.thing, line, characteristics, gauges, provenance)
            )
            good.append(line)
        except Refusal as refusal:
            findings += [line.wrong(f.sentence) for f in refusal.findings]
    batch.lines = good
    return findings


def gauges_named(lines: Iterable[ReadingRow]) -> dict[str, Gauge]:
    """Find the gauges that a file names, by number (one query)."""
    numbers = {line.cells.get("gauge", "") for line in lines} - {""}
    return {g.number: g for g in Gauge.objects.filter(number__in=numbers)}


def _things(lines: list[ReadingRow]) -> dict[tuple[str, str], Model]:
    wanted: dict[str, set[str]] = {}
    for line in lines:
        wanted.setdefault(line.cells["kind"].lower(), set()).add(line.cells["number"])
    things: dict[tuple[str, str], Model] = {}
    for kind, numbers in wanted.items():
        model = MODELS.get(kind) if kind != "gauge" else None
        if model is not None:
            column = number_field(kind)
            rows = model._default_manager.filter(**{f"{column}__in": numbers})
            things |= {(kind, str(getattr(t, column)).upper()): t for t in rows}
    return things


def _draft(
    thing: Model,
    line: ReadingRow,
    characteristics: dict[tuple[str, str], Characteristic],
    gauges: dict[str, Gauge],
    provenance: Provenance,
) -> Draft:
    cells = line.cells
    stage, code = cells["stage"], cells["characteristic"]
    if (stage, code) not in characteristics:
        raise refuse(f"its route has no reading {code} at stage {stage}.")
    number = cells.get("gauge", "")
    if number and number not in gauges:
        raise refuse(f"there is no gauge {number} in the book.")
    one = characteristics[stage, code]
    return Draft(
        subject=thing,
        characteristic=one,
        entered=cells["entered"],
        unit=cells.get("unit") or one.unit,
        happened_at=_moment(cells["happened_at"]),
        gauge=gauges.get(number),
        blade=_whole(cells.get("blade", ""), "blade"),
        station=_station(cells.get("station", ""), provenance),
        joint=_whole(cells.get("joint", ""), "joint"),
        point=_point(cells.get("point", "")),
    )


def _moment(text: str) -> dt.datetime:
    try:
        moment = dt.datetime.fromisoformat(text)
    except ValueError as error:
        sentence = f"{text!r} is no date and time such as 2026-03-04 14:05."
        raise refuse(sentence) from error
    return timezone.make_aware(moment) if timezone.is_naive(moment) else moment


def _whole(text: str, name: str) -> int | None:
    if not text:
        return None
    if not text.isdecimal() or len(text) > 4:  # noqa: PLR2004 - far beyond any stack
        raise refuse(f"{text!r} is no number of a {name}.")
    return int(text)


def _point(text: str) -> str:
    if len(text) > LONGEST_POINT:
        raise refuse(f"keep the point within {LONGEST_POINT} characters.")
    return text


def _station(text: str, provenance: Provenance) -> Station | None:
    if not text:
        return None
    for station in provenance.stations:
        if str(station) in {text, f"{text} mm"}:
            return station
    raise refuse(f"the design has no station at {text}.")
