"""Heads are printed to be kept, and checked later against the book."""

import io
import json

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone

from records.models import LedgerEntry
from tests.forging import unguarded
from tests.whole_book import write_book

pytestmark = pytest.mark.django_db


@pytest.fixture
def book(db):
    return write_book()


def run(name, *options):
    out = io.StringIO()
    call_command(name, *options, stdout=out, stderr=io.StringIO())
    return out.getvalue()


def test_one_line_has_day_number_and_digest(book):
    head = LedgerEntry.objects.head()
    day = timezone.localdate().isoformat()
    assert run("ledger_head", "--line") == f"{day} {head.sequence} {head.digest}\n"
    assert run("ledger_head").startswith(f"{day} {head.sequence} {head.digest}\n")
    assert run("ledger_head", "--every-day") == f"{day} {head.sequence} {head.digest}\n"


def test_an_empty_ledger_has_no_head(db):
    with pytest.raises(CommandError, match="no head yet"):
        run("ledger_head", "--line")


def test_a_kept_line_and_a_copied_head_are_checked(book, tmp_path):
    kept = tmp_path / "kept.txt"
    kept.write_text(run("ledger_head", "--line"))
    head = LedgerEntry.objects.head().digest
    said = run("verify_records", "--anchor", str(kept), "--head", head)
    assert "The book is whole" in said


def test_a_tail_cut_off_is_listed_and_leaves_with_1(book, tmp_path):
    kept = tmp_path / "kept.txt"
    kept.write_text(run("ledger_head", "--line"))
    with unguarded():
        LedgerEntry.objects.head().delete()
    out = io.StringIO()
    with pytest.raises(SystemExit, match="1"):
        call_command("verify_records", "--json", "--anchor", str(kept), stdout=out)
    smuggled, cut_off = json.loads(out.getvalue())
    assert "gauge" in smuggled["record"]
    assert cut_off["record"] == "kept.txt, line 1"
    assert "cut off" in cut_off["sentence"]


@pytest.mark.parametrize("content", [None, b"\xff\xfe\x00"])
def test_a_file_that_cannot_be_read_is_said(book, tmp_path, content):
    kept = tmp_path / "kept.txt"
    if content:
        kept.write_bytes(content)
    with pytest.raises(CommandError, match=r"kept.txt can't be read"):
        run("verify_records", "--anchor", str(kept))
