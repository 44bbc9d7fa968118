"""What was read of a propeller, issued and done with it, in plain tables."""

from records.documents.dossiers import Dossier
from records.documents.export_table import Cell, Linked, Place, Section, with_flags
from records.models import ConformityRecord, Reading
from records.queries.readings.context import is_late
from records.queries.subjects import called
from records.spelling.moments import when
from records.spelling.numbers import NOTHING
from records.spelling.quantities import in_unit
from records.spelling.readings import figure_of, limit_of, place_of
from records.spelling.verdicts import loud


def papers(one: Dossier, place: Place) -> Section:
    """List the conformity records, each with its PDF."""
    rows: list[list[Cell]] = [
        [
            Linked(paper.number, place(paper.pdf.sha256, paper.pdf.media_type)),
            str(paper.issue),
            when(paper.issued_at),
            paper.signer,
            _standing(paper),
        ]
        for paper in one.papers
    ]
    return Section(
        "Conformity records",
        ("Number (PDF)", "Issue", "Issued", "Signed by", "Stands"),
        rows,
    )


def _standing(paper: ConformityRecord) -> str:
    withdrawal = getattr(paper, "withdrawal", None)
    if withdrawal is not None:
        return f"withdrawn: {withdrawal.reason}"
    replaced_by = getattr(paper, "replaced_by", None)
    return f"replaced by {replaced_by.number}" if replaced_by else "in force"


def readings(one: Dossier) -> Section:
    """List every reading, corrected ones too, of the propeller and its parts."""
    columns = (
        *("Read", "Of", "What", "Where", "Figure", "Limit", "Verdict"),
        *("Gauge", "Written by"),
    )
    return Section("Readings", columns, [_reading(r) for r in one.written.readings])


def _reading(row: Reading) -> list[str]:
    late = f", written {when(row.written_at)}" if is_late(row) else ""
    return [
        when(row.happened_at) + late,
        called(row.subject),
        f"{row.characteristic.stage.name}: {row.characteristic.name}",
        place_of(row) or NOTHING,
        figure_of(row),
        _limit(row),
        with_flags(_verdict(row), row.flags),
        row.gauge.number if row.gauge else NOTHING,
        row.written_by.name,
    ]


def _limit(row: Reading) -> str:
    sides = limit_of(row)
    if not sides:
        return NOTHING
    return f"{sides} ({row.limit_source})" if row.limit_source else sides


def _verdict(row: Reading) -> str:
    word = loud(row.verdict)
    return f"{word}; instead of an earlier one: {row.reason}" if row.reason else word


def changes(one: Dossier) -> Section:
    """List material changes, designations and releases."""
    made = one.propeller
    rows = [
        [when(c.happened_at), f"{c.get_what_display()}, {c.place}", c.reason]
        for c in made.material_changes.all()
    ]
    rows += [
        [when(d.happened_at), f"designated {d.after} instead of {d.before}", d.reason]
        for d in made.designations.all()
    ]
    rows += [
        [when(r.happened_at), "released", r.printed_name] for r in made.releases.all()
    ]
    return Section("Changes and releases", ("When", "What", "Why, or who"), rows)


def service(one: Dossier) -> Section:
    """List owners and what happened in service."""
    made = one.propeller
    rows = [
        [when(o.happened_at), f"handed over to {o.owner.name}", o.aircraft or NOTHING]
        for o in made.ownerships.all()
    ]
    rows += [
        [
            when(e.happened_at),
            e.get_kind_display()
            + (f", {in_unit(e.hours, 'h')} run" if e.hours else ""),
            e.findings,
        ]
        for e in made.service_events.all()
    ]
    return Section("In service", ("When", "What", "Details"), rows)


def photos(one: Dossier, place: Place) -> Section:
    """List photos and papers about it and its parts."""
    rows: list[list[Cell]] = [
        [
            Linked(photo.caption, place(photo.file.sha256, photo.file.media_type)),
            when(photo.happened_at),
            photo.written_by.name,
        ]
        for photo in one.written.attachments
    ]
    return Section("Photos and papers", ("File", "Taken", "Written by"), rows)
