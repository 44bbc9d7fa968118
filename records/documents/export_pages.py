"""The export as pages: a register of serials, and one page a serial."""

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from django.template.loader import render_to_string

from records.documents import export_judged as judged
from records.documents.dossiers import Dossier, dossiers
from records.documents.export_table import Section, of_table
from records.queries.files import place_of
from records.queries.provenance import tables_written
from records.queries.provenance.tables import tables_of
from records.spelling.moments import when

PROPELLERS, FILES = "propellers", "files"
ENDINGS = {"application/pdf": ".pdf", "image/jpeg": ".jpg"}
_UNFIT = re.compile(r"[^A-Za-z0-9._-]+")


def file_place(sha256: str, media_type: str) -> str:
    """Give the path of a kept file within the export: its digest, and an ending."""
    return f"{FILES}/{place_of(sha256)}{ENDINGS.get(media_type, '')}"


def write_pages(folder: Path, facts: Mapping[str, Any]) -> Iterator[str]:
    """Write the register and a page for each serial; yield each serial when done."""
    (folder / PROPELLERS).mkdir()
    _write(folder / "style.css", "documents/export/style.css", {})
    lines = []
    for one in dossiers():
        page = f"{PROPELLERS}/{page_name(one)}"
        context = {
            **facts,
            "one": one.propeller,
            "begun": when(one.propeller.written_at),
            "sections": sections_of(one),
            "register": "../index.html",
        }
        _write(folder / page, "documents/export/propeller.html", context)
        lines.append(_line(one, page))
        yield one.propeller.serial
    _write(
        folder / "index.html", "documents/export/index.html", {**facts, "lines": lines}
    )


def page_name(one: Dossier) -> str:
    """Name a page after its serial, in letters that every file system takes."""
    return f"{_UNFIT.sub('_', one.propeller.serial)}-{one.propeller.pk}.html"


def sections_of(one: Dossier) -> list[Section]:
    """Spell a dossier as tables; an empty one is there too, and says so."""
    return [
        judged.papers(one, _from_page),
        *(of_table(table) for table in tables_of(one.made, one.written)),
        judged.readings(one),
        of_table(tables_written.signatures(one.written)),
        of_table(tables_written.deviations(one.written)),
        judged.changes(one),
        judged.service(one),
        judged.photos(one, _from_page),
    ]


def _from_page(sha256: str, media_type: str) -> str:
    return f"../{file_place(sha256, media_type)}"


def _line(one: Dossier, page: str) -> dict[str, str]:
    propeller = one.propeller
    paper = next(iter(one.papers), None)
    return {
        "serial": propeller.serial,
        "page": page,
        "design": str(propeller.revision.design),
        "revision": propeller.revision.number,
        "state": propeller.get_state_display(),
        "paper": paper.number if paper else "",
    }


def _write(path: Path, template: str, context: Mapping[str, Any]) -> None:
    path.write_text(render_to_string(template, dict(context)), encoding="utf-8")
