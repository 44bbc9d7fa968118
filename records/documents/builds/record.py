"""The build record: everything that was seen and signed of one propeller, on paper.

For the shop's own file: it names people and suppliers' lots, and goes to nobody else.
"""

import base64
import datetime as dt
from collections.abc import Iterable, Sequence

from records.documents.form import OPEN, Cell, Section, Table
from records.documents.paper import paper, size_for
from records.documents.pdf import render_pdf
from records.documents.press_chart import press_chart
from records.models import PressLoad, Propeller, Reading, Shop
from records.queries.builds.progress import Progress, StageState, progress_of
from records.queries.pressing.history import PressHistory, press_history
from records.queries.provenance import tables, tables_written
from records.queries.subjects import called
from records.queries.trace.history import History, where_from
from records.rules.pressing.held import load_is_sound
from records.spelling.moments import duration, when
from records.spelling.quantities import pressure
from records.spelling.readings import figure_of, judged_of, limit_of, name_of

HEAD = ("What, and where", "Figure", "Limit", "Verdict", "Gauge", "Read", "By")
SHARES = (7, 4, 5, 3, 2, 4, 3)


def draw_build_record(propeller: Propeller, moment: dt.datetime) -> bytes:
    """Draw the build record of a propeller as the book stands at a moment."""
    shop = Shop.objects.get()
    history, progress = where_from(propeller), progress_of(propeller)
    context = {
        **paper(
            title=f"Build record, propeller {propeller.serial}",
            shop=shop.name,
            size=size_for(shop.units_first),
            about=f"Build record · serial {propeller.serial} · {when(moment)}",
        ),
        "propeller": progress.provenance.propeller,
        "state": propeller.get_state_display(),
        "route": progress.route,
        "moment": when(moment),
        "sections": list(_sections(history, progress)),
    }
    return render_pdf("documents/build_record.html", context, drawn_at=moment)


def _sections(history: History, progress: Progress) -> Iterable[Section]:
    made, written = history.made, history.written
    yield _table(tables.laminations(made))
    if made.voided:
        yield _table(tables.voided(made))
    yield _table(tables.mixes(made))
    yield _table(tables.joints(made))
    yield Section(
        "Press loads", [[cell] for load in made.loads for cell in _load(load)]
    )
    yield _table(tables.coupons(made))
    if made.uses:
        yield _table(tables.uses(made))
    yield from (_stage(s, progress) for s in progress.states if _was_read(s))
    yield _signatures(progress)
    yield _table(tables_written.deviations(written))


def _table(table: tables.Table) -> Section:
    rows = [row.cells for row in table.rows]
    shown = Table(table.columns, rows, table.shares)
    cell = Cell("", "", table=shown) if rows else Cell("", "", ["None"])
    return Section(table.title, [[cell]])


def _signatures(progress: Progress) -> Section:
    """List every signature with its meaning and kind of check, void ones too."""
    rows = [
        [
            f"{state.stage.name}, {called(state.subject)}",
            s.signoff.printed_name,
            when(s.signoff.happened_at),
            s.signoff.meaning,
            s.signoff.get_check_kind_display(),
            s.signoff.digest[:16],
            "VOID" if s.void else "stands",
        ]
        for state in progress.states
        for s in state.signatures
    ]
    head = ("Stage", "Signed by", "When", "Meaning", "Kind of check", "Digest", "")
    table = Table(head, rows, (5, 3, 4, 5, 4, 4, 2))
    cell = Cell("", "", table=table) if rows else Cell("", "", ["None"])
    return Section("Signatures", [[cell]])


def _load(load: PressLoad) -> Iterable[Cell]:
    history = press_history(load)
    chart = press_chart(history)
    about = f"{load.number}, {load.press}: {when(load.on_at)} to {when(load.off_at)}"
    yield Cell("", about, _held(history))
    if chart:
        data = base64.b64encode(chart.encode()).decode()
        yield Cell(
            "", "Course of the load", [], picture=f"data:image/svg+xml;base64,{data}"
        )


def _held(history: PressHistory) -> Sequence[str]:
    asked = (
        f"Asked at the glue line: {pressure(history.load.pressure_low_pa)} to "
        f"{pressure(history.load.pressure_high_pa)}"
    )
    seen = (
        f"Seen: {len(history.samples)} samples, lowest {pressure(history.lowest_pa)}, "
        f"highest {pressure(history.highest_pa)}, held {duration(history.held_s)}"
    )
    against = [finding.sentence for finding in load_is_sound(history)]
    return [asked, seen, *(against or ["Nothing was found against it."])]


def _was_read(state: StageState) -> bool:
    return bool(state.readings or state.replaced)


def _stage(state: StageState, progress: Progress) -> Section:
    whole = state.subject == progress.provenance.propeller
    of = "" if whole else f", {called(state.subject)}"
    rows = [_row(r, state) for r in state.readings]
    rows += [_row(r, state, gone=True) for r in state.replaced]
    title = f"{state.stage.name}{of}"
    return Section(title, [[Cell("", "", table=Table(HEAD, rows, SHARES))]])


def _row(reading: Reading, state: StageState, *, gone: bool = False) -> list[str]:
    judged = judged_of(reading)
    return [
        ", ".join([name_of(reading), *_of_part(reading, state)]),
        f"{figure_of(reading)}; {judged}" if judged else figure_of(reading),
        limit_of(reading) or OPEN,
        _verdict(reading, state, gone=gone),
        reading.gauge.number if reading.gauge else OPEN,
        when(reading.happened_at),
        reading.written_by.name,
    ]


def _verdict(reading: Reading, state: StageState, *, gone: bool) -> str:
    words = [str(reading.get_verdict_display())]
    if gone:
        words.append("replaced later")
    elif reading.pk in state.stale:
        words.append("STALE")
    elif reading.pk in state.accepted:
        words.append("accepted by concession")
    if reading.reason:
        words.append(f"corrects an earlier one: {reading.reason}")
    return "; ".join(words)


def _of_part(reading: Reading, state: StageState) -> list[str]:
    kind = reading.subject_kind
    return [
        called(thing)
        for thing in state.provenance.things(kind)
        if kind != state.kind and thing.pk == getattr(reading, f"{kind}_id")
    ]
