"""The deviation report: what was required, found, touched, held, decided and done."""

import base64
import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from typing import Any

from django.utils.timezone import localdate

from records.documents.form import Cell, Section, Table
from records.documents.paper import paper, size_for
from records.documents.pdf import render_pdf
from records.documents.press_chart import press_chart
from records.documents.station_chart import station_chart
from records.models import Attachment, Deviation, Hold, PressLoad, Reading, Shop
from records.queries.deviations.file import DeviationFile, file_of, key_of
from records.queries.deviations.register import readings_beside
from records.queries.files import Damaged, read_kept
from records.queries.pressing.history import press_history
from records.queries.trace.serials import ranges
from records.rules.deviations.opening import subject_called
from records.spelling.moments import day, when
from records.spelling.numbers import NOTHING
from records.spelling.readings import figure_of, limit_of, name_of

MOST_PHOTOS = 6


def deviation_pdf(deviation: Deviation, *, drawn_at: dt.datetime) -> bytes:
    """Draw the report on one deviation as it stands.

    Raises ``DrawingFailed`` with a sentence where the PDF can't be drawn.
    """
    context = report_page(file_of(deviation), Shop.objects.get(), drawn_at)
    return render_pdf("documents/deviation.html", context, drawn_at=drawn_at)


def report_page(
    whole: DeviationFile, shop: Shop, drawn_at: dt.datetime
) -> dict[str, Any]:
    """Give the template what the report says."""
    deviation = whole.deviation
    title = f"Deviation report {deviation.number}"
    about = f"{deviation.number}, as of {when(drawn_at)}"
    return {
        **paper(
            title=title,
            shop=shop.name,
            size=size_for(shop.units_first),
            about=about,
        ),
        "deviation": deviation,
        "state": _state(deviation, drawn_at),
        "as_of": when(drawn_at),
        "before": [_what(whole), _seen(whole)],
        "charts": _charts(whole),
        "after": [
            _touched(whole),
            _decided(whole),
            _causes(whole),
            *_photos(whole.photos),
            _signed(whole),
        ],
    }


def _state(deviation: Deviation, drawn_at: dt.datetime) -> str:
    end = deviation.closed_at or drawn_at
    days = (localdate(end) - localdate(deviation.happened_at)).days
    return f"{deviation.get_state_display()}, {days} days"


def _what(whole: DeviationFile) -> Section:
    deviation = whole.deviation
    stage = [deviation.stage.name] if deviation.stage else []
    names = dict.fromkeys(subject_called(s) for s in whole.subjects)
    return Section(
        "What is not as required",
        [
            [
                Cell("1", "Deviation", [deviation.number], strong=True),
                Cell("2", "What", [deviation.title], share=4, strong=True),
            ],
            [
                Cell("3", "Found", [when(deviation.happened_at)]),
                Cell("4", "At stage", stage),
                Cell("5", "Touches", [", ".join(names)], share=3),
                Cell("6", "Serials", [str(len(whole.serials))]),
            ],
            [
                Cell("7", "Required", deviation.required.splitlines()),
                Cell("8", "Found to be", deviation.found.splitlines()),
            ],
        ],
    )


def _seen(whole: DeviationFile) -> Section:
    readings = {s.reading.pk: s.reading for s in whole.subjects if s.reading}
    table = Table(
        ("What was read", "Reading", "Limit of that day", "Verdict", "Gauge", "When"),
        [_reading_row(reading) for reading in readings.values()],
        (4, 2, 3, 2, 2, 3),
    )
    rows = [[Cell("9", "Readings that showed it", table=table)]] if readings else []
    return Section("What was read" if readings else "", rows)


def _reading_row(reading: Reading) -> tuple[str, ...]:
    return (
        name_of(reading),
        figure_of(reading),
        limit_of(reading) or "none stored",
        reading.get_verdict_display(),
        reading.gauge.number if reading.gauge else NOTHING,
        when(reading.happened_at),
    )


def _charts(whole: DeviationFile) -> list[tuple[str, str]]:
    """Draw the first press load touched, and the stations of the first reading."""
    loads = [s.subject for s in whole.subjects if isinstance(s.subject, PressLoad)]
    drawn = [
        (f"Press load {load}", press_chart(press_history(load))) for load in loads[:1]
    ]
    at_stations = [s.reading for s in whole.subjects if s.reading and s.reading.station]
    drawn += [
        (str(reading.characteristic), station_chart(readings_beside(reading)))
        for reading in at_stations[:1]
    ]
    return [(title, svg) for title, svg in drawn if svg]


def _touched(whole: DeviationFile) -> Section:
    through: defaultdict[int, list[str]] = defaultdict(list)
    for subject in whole.subjects:
        for place in whole.reached.get(key_of(subject), []):
            through[place.pk].append(subject_called(subject))
    rows = [
        (
            place.serial,
            place.model,
            place.state_name,
            place.owner or "the shop",
            ", ".join(dict.fromkeys(through[place.pk])),
        )
        for place in whole.serials
    ]
    head = ("Serial", "Model", "State", "Owner", "Through")
    places = Table(head, rows, (2, 2, 2, 3, 5))
    holds = Table(
        ("On", "Put on", "Released"),
        [_hold_row(hold) for hold in whole.holds],
        (2, 2, 4),
    )
    exact = ", ".join(ranges(place.serial for place in whole.serials))
    return Section(
        "What it touched",
        [
            [Cell("10", "Serials, exactly", [exact or "none"])],
            [_table_cell("11", "Each, and through what", places)],
            [_table_cell("12", "Holds", holds)],
        ],
    )


def _table_cell(number: str, label: str, table: Table) -> Cell:
    """Put a table into a cell, or say that there is nothing."""
    if not table.rows:
        return Cell(number, label, ["none"])
    return Cell(number, label, table=table)


def _hold_row(hold: Hold) -> tuple[str, str, str]:
    released = "STANDS"
    if hasattr(hold, "release"):
        release = hold.release
        at = when(release.happened_at)
        released = f"{at}, {release.written_by}: {release.reason}"
    put_on = f"{when(hold.happened_at)}, {hold.written_by}"
    return subject_called(hold), put_on, released


def _decided(whole: DeviationFile) -> Section:
    rows: list[list[Cell]] = []
    for disposition in whole.dispositions:
        about = ", ".join(subject_called(d.subject) for d in disposition.disposed.all())
        one_person = (
            " (found and decided by one person)" if disposition.one_person else ""
        )
        decided = (
            f"{disposition.written_by}, {when(disposition.happened_at)}{one_person}"
        )
        rows += [
            [
                Cell("13", "Decision", [disposition.get_kind_display()], strong=True),
                Cell("14", "About", [about], share=2),
                Cell("15", "Decided by", [decided], share=2),
            ],
            [Cell("16", "Why", disposition.reason.splitlines())],
        ]
        repeated = ", ".join(str(stage) for stage in disposition.repeat.all())
        if repeated:
            rows.append([Cell("17", "Stages to repeat", [repeated])])
        if disposition.plain_words:
            rows.append(
                [
                    Cell(
                        "18", "Agreed for the design by", [disposition.design_authority]
                    ),
                    Cell(
                        "19", "Told to the customer", [disposition.plain_words], share=2
                    ),
                ]
            )
    waiting = [Cell("13", "Decision", ["not decided yet"])]
    return Section("What was decided", rows or [waiting])


def _causes(whole: DeviationFile) -> Section:
    deviation = whole.deviation
    kind = deviation.get_cause_kind_display() if deviation.cause_kind else ""
    actions = [
        (
            action.what,
            action.owner.name,
            day(action.due_on),
            day(action.done_on) if action.done_on else "not yet",
            "; ".join(f"{c}: {c.evidence}" for c in action.checks.all())
            or f"to be looked at {day(action.look_on)}",
        )
        for action in whole.actions
    ]
    head = ("What is done", "By whom", "Due", "Done", "Did it work?")
    table = Table(head, actions, (4, 2, 2, 2, 4))
    return Section(
        "Why, and so that it does not happen again",
        [
            [
                Cell("20", "Cause lies in", [kind or "not stated"]),
                Cell("21", "Cause", deviation.cause.splitlines(), share=3),
            ],
            [_table_cell("22", "Actions", table)],
        ],
    )


def _photos(photos: Iterable[Attachment]) -> list[Section]:
    shown = [p for p in photos if p.file.media_type == "image/jpeg"][:MOST_PHOTOS]
    if not shown:
        return []
    rows = [[_photo(photo)] for photo in shown]
    return [Section("Photos", rows)]


def _photo(photo: Attachment) -> Cell:
    words = [photo.caption, f"{when(photo.happened_at)}, {photo.written_by}"]
    try:
        data = base64.b64encode(read_kept(photo.file)).decode()
    except Damaged as damage:
        return Cell("23", "Photo", [*words, str(damage)])
    return Cell("23", "Photo", words, picture=f"data:image/jpeg;base64,{data}")


def _signed(whole: DeviationFile) -> Section:
    deviation = whole.deviation
    decided = list(dict.fromkeys(str(d.written_by) for d in whole.dispositions))
    closed = when(deviation.closed_at) if deviation.closed_at else "still open"
    opened = f"{deviation.written_by}, {when(deviation.written_at)}"
    return Section(
        "Signatures",
        [
            [
                Cell("24", "Opened by", [opened], blank_mm=9),
                Cell("25", "Decided by", decided, blank_mm=9),
                Cell("26", "Closed", [closed], blank_mm=9),
            ]
        ],
        caution=(
            "Whether a part may fly is decided by its approved design, the local rules "
            "and licensed people. This report keeps what was found and decided."
        ),
    )
