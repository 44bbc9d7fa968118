"""The shop is sold, the program is gone: only files are left (trade note 20).

What is asked of the files here uses nothing of the program: only what any machine has
had for decades, and what the export's own README says.
"""

import csv
import hashlib
import json
import re
from html import unescape

import pytest
from django.core.management import call_command

from records.queries.trace.history import where_from


@pytest.fixture
def left(told, tmp_path):
    """Make and certify one propeller, scrap nothing, and export the book."""
    propeller = told.released(told.glued())
    told.certified(propeller)
    folder = tmp_path / "left"
    call_command("export_records", folder)
    return propeller, where_from(propeller), folder


def words(path):
    """Read a page as an old browser shows it."""
    html = path.read_text(encoding="utf-8")
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def test_situation_20_only_files_are_left_and_they_tell_everything(left):
    propeller, history, folder = left
    made, written = history.made, history.written
    register = words(folder / "index.html")
    assert f"{propeller.serial} Bittern 52 A released CR00001" in register
    [page] = (folder / "propellers").glob("*.html")
    card = words(page)
    told = [
        *made.boards,
        *made.timber_lots,
        *made.glue_lots,
        *made.mixes,
        *made.loads,
        *made.coupons,
        *history.gauges,
    ]
    assert [str(thing) for thing in told if str(thing).split()[0] not in card] == []
    for joint in (1, 2, 3, 4):
        assert re.search(rf"\b{joint}\b[^.]*{made.mixes[0]}", card)
    for reading in written.readings:
        assert reading.entered in card
    for signoff in written.signoffs:
        assert signoff.printed_name in card

    papers_are_what_their_names_say(folder)
    ledger_holds(folder)
    every_reading_is_in_a_table(folder, written)


def papers_are_what_their_names_say(folder):
    """Each kept file is named by the digest of its bytes; the record is a PDF."""
    kept = [path for path in (folder / "files").rglob("*") if path.is_file()]
    for path in kept:
        digest = hashlib.sha256(path.read_bytes()).hexdigest()
        name = "".join(path.relative_to(folder / "files").with_suffix("").parts)
        assert name.endswith(digest) or digest in name
    assert [path.read_bytes()[:5] for path in kept if path.suffix == ".pdf"] == [
        b"%PDF-"
    ]


def ledger_holds(folder):
    """Check the ledger as the README tells anybody to."""
    digest = "0" * 64
    for line in (folder / "ledger.jsonl").read_bytes().splitlines():
        digest = hashlib.sha256(bytes.fromhex(digest) + line).hexdigest()
        assert json.loads(line)["verb"]
    assert digest in (folder / "README.txt").read_text(encoding="utf-8")


def every_reading_is_in_a_table(folder, written):
    """A spreadsheet finds each figure as it was entered."""
    table = folder / "tables" / "records_reading.csv"
    with table.open(encoding="utf-8-sig", newline="") as file:
        rows = {row["id"]: row for row in csv.DictReader(file)}
    for reading in written.readings:
        entered = rows[str(reading.pk)]["entered"].removeprefix("'")
        assert entered == reading.entered
