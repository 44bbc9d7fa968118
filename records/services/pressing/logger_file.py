"""Reading a logger's file: time, pressure and temperature, line by line.

A bad line never comes in, and no line comes in beside a bad one.
"""

import csv
import datetime as dt
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from django.utils.timezone import get_current_timezone, is_naive, make_aware

from records.engineering.units import parse_number

MOST_LINES: Final = 20_000
LONGEST_LINE: Final = 10_000
HEADER_WITHIN: Final = 30

NAMES: Final[dict[str, tuple[str, ...]]] = {
    "time": ("time", "date time", "datetime", "date/time", "timestamp", "at"),
    "date": ("date", "day"),
    "elapsed": ("elapsed", "elapsed time", "since pressure on"),
    "pressure": ("pressure", "gauge", "gauge pressure", "vacuum", "torque"),
    "temperature": ("temperature", "temp", "stack temperature", "glue temperature"),
}
UNITS: Final[dict[str, str]] = {
    "°c": "degC", "c": "degC", "degc": "degC", "deg c": "degC",
    "°f": "degF", "f": "degF", "degf": "degF", "deg f": "degF",
    "pa": "Pa", "kpa": "kPa", "mpa": "MPa", "bar": "bar", "mbar": "mbar",
    "psi": "psi", "nm": "N.m", "n.m": "N.m", "n·m": "N.m",
    "lbf.ft": "lbf.ft", "ft.lb": "lbf.ft", "lbf.in": "lbf.in",
    "s": "s", "sec": "s", "min": "min", "h": "h",
}  # fmt: skip
_SECONDS: Final = {"s": 1, "min": 60, "h": 3600}
_HEADING = re.compile(r"([^\[(]+?)\s*(?:[\[(]\s*([^\])]*?)\s*[\])])?")
_FORMATS: Final = ("%d.%m.%Y %H:%M:%S", "%d.%m.%Y %H:%M")
_EXAMPLE: Final = "time;pressure [bar];temperature [°C]"


class UnreadableLine(Exception):
    """What is wrong with a line, as a sentence."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of the file: where it is, and the unit its heading states."""

    index: int
    unit: str


@dataclass(frozen=True, slots=True)
class LoggedSample:
    """One line of the file as read; the pressure stays as it is written."""

    number: int
    at: dt.datetime
    pressure: str
    temperature: Decimal | None


@dataclass(frozen=True, slots=True)
class Log:
    """All lines, and for each line that can't be read its number and the reason."""

    columns: dict[str, Column]
    lines: list[LoggedSample]
    bad: list[tuple[int, str]]


@dataclass(frozen=True, slots=True)
class _Heading:
    """Where the figures begin, what separates them, and which column is which."""

    start: int
    delimiter: str
    width: int
    columns: dict[str, Column]


def read_log(text: str, on_at: dt.datetime) -> Log:
    """Read a logger's file; elapsed times count from pressure on.

    Columns are separated by semicolon, tab or comma. A comma in a figure is the
    decimal sign: where commas separate the columns, figures are written with points.

    Raises `UnreadableLine` where there is no heading to read it by, or too many lines.
    """
    rows = text.splitlines()
    if len(rows) > MOST_LINES:
        raise UnreadableLine(
            f"The file has {len(rows)} lines; {MOST_LINES} are the most. Thin it out."
        )
    for number, row in enumerate(rows, start=1):
        if len(row) > LONGEST_LINE:
            raise UnreadableLine(
                f"Line {number} has {len(row)} characters; {LONGEST_LINE} are the "
                "most. This is no logger's file, or its lines have run together."
            )
    heading = _heading(rows)
    lines: list[LoggedSample] = []
    bad: list[tuple[int, str]] = []
    for number, cells in _cells(rows, heading):
        try:
            lines.append(_line(number, cells, heading, on_at))
        except UnreadableLine as problem:
            bad.append((number, str(problem)))
    if not lines and not bad:
        raise UnreadableLine("There is no line under the heading.")
    return Log(heading.columns, lines, bad)


def _heading(rows: Sequence[str]) -> _Heading:
    """Find the line that names the columns, and what separates them."""
    for index, row in enumerate(rows[:HEADER_WITHIN]):
        for delimiter in ";\t,":
            headings = next(csv.reader([row], delimiter=delimiter), [])
            columns = _columns(headings)
            if {"time", "elapsed"} & set(columns) and "pressure" in columns:
                return _Heading(index + 1, delimiter, len(headings), columns)
    raise UnreadableLine(
        "No heading names the columns. Put a line above the figures such as "
        f"{_EXAMPLE}, or with elapsed [min] for the time."
    )


def _columns(headings: Sequence[str]) -> dict[str, Column]:
    columns: dict[str, Column] = {}
    for index, heading in enumerate(headings):
        match = _HEADING.fullmatch(heading.strip().lower().replace("_", " "))
        if match is None:
            continue
        name, unit = match.group(1).strip(" ."), match.group(2) or ""
        for column, names in NAMES.items():
            if name in names and column not in columns:
                columns[column] = Column(index, UNITS.get(unit, unit))
    return columns


def _cells(rows: Sequence[str], heading: _Heading) -> Iterator[tuple[int, list[str]]]:
    for number, row in enumerate(rows[heading.start :], start=heading.start + 1):
        if row.strip(" ,;\t"):
            yield number, next(csv.reader([row], delimiter=heading.delimiter))


def _line(
    number: int, cells: Sequence[str], heading: _Heading, on_at: dt.datetime
) -> LoggedSample:
    if any(cell.strip() for cell in cells[heading.width :]):
        raise UnreadableLine(
            "It has more columns than the heading. "
            "Figures with a decimal comma need semicolons between the columns."
        )
    columns = heading.columns
    return LoggedSample(
        number=number,
        at=_time(cells, columns, on_at),
        pressure=_pressure(_cell(cells, columns["pressure"])),
        temperature=_temperature(cells, columns.get("temperature")),
    )


def _pressure(text: str) -> str:
    _number(text, "pressure")
    return text


def _cell(cells: Sequence[str], column: Column) -> str:
    return cells[column.index].strip() if column.index < len(cells) else ""


def _number(text: str, name: str) -> Decimal:
    if not text:
        raise UnreadableLine(f"The {name} is missing.")
    try:
        return logged(text)
    except ValueError as error:
        reason = str(error)
        raise UnreadableLine(f"{reason[:1].upper()}{reason[1:]}.") from error


def logged(text: str) -> Decimal:
    """Read a figure of a logger: its comma is the decimal sign, never thousands."""
    lone = text.count(",") == 1 and "." not in text
    return parse_number(text.replace(",", ".") if lone else text)


def _temperature(cells: Sequence[str], column: Column | None) -> Decimal | None:
    text = _cell(cells, column) if column else ""
    return _number(text, "temperature") if text else None


def _time(
    cells: Sequence[str], columns: dict[str, Column], on_at: dt.datetime
) -> dt.datetime:
    if "elapsed" in columns:
        return _since(_cell(cells, columns["elapsed"]), columns["elapsed"], on_at)
    text = _cell(cells, columns["time"])
    if "date" in columns:
        text = f"{_cell(cells, columns['date'])} {text}"
    moment = _moment(text)
    return make_aware(moment, get_current_timezone()) if is_naive(moment) else moment


def _since(text: str, column: Column, on_at: dt.datetime) -> dt.datetime:
    if column.unit not in _SECONDS:
        raise UnreadableLine(
            "State the unit of the elapsed time: elapsed [s], [min] or [h]."
        )
    seconds = float(_number(text, "elapsed time")) * _SECONDS[column.unit]
    try:
        return on_at + dt.timedelta(seconds=seconds)
    except OverflowError as error:
        raise UnreadableLine(f"{text} {column.unit} is no time in a press.") from error


def _moment(text: str) -> dt.datetime:
    for read in (_iso, _with_points):
        moment = read(text)
        if moment is not None:
            return moment
    raise UnreadableLine(
        f"'{text}' is no date and time. Write 2026-03-04 14:05:30, or 04.03.2026 14:05."
    )


def _iso(text: str) -> dt.datetime | None:
    """Read ISO 8601 with a time of day, with or without its zone."""
    try:
        return dt.datetime.fromisoformat(text) if ":" in text else None
    except ValueError:
        return None


def _with_points(text: str) -> dt.datetime | None:
    """Read day.month.year; with strokes nobody knows which is the month."""
    for layout in _FORMATS:
        try:
            return dt.datetime.strptime(text, layout)  # noqa: DTZ007 - shop's zone
        except ValueError:
            continue
    return None
