"""Screens of the ledger: what was done, by whom, and what exactly was written."""

from collections.abc import Iterator

from django.http import Http404, HttpRequest, HttpResponse, StreamingHttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import render
from django.utils import timezone

from records.models import LedgerEntry
from records.queries.anchors import daily_anchors
from records.queries.ledger import entries_listed, entry_and_before
from records.web.ledger.pages import entry_page, ledger_page
from records.web.ledger.tables import EntryFilter, EntryTable
from records.web.shared.tables import listing

HEADS = (
    "# Heads of the ledger: day, number of the day's last entry, its digest.\n"
    "# Keep this where nobody who changes the book can reach it.\n"
    "# manage.py verify_records --anchor FILE checks the book against it.\n"
)


def ledger(request: HttpRequest) -> HttpResponseBase:
    """List every entry, with the head and the last backup above."""
    return listing(
        request,
        EntryTable,
        entries_listed(),
        filterset=EntryFilter,
        template="ledger/ledger.html",
        context=ledger_page(LedgerEntry.objects.head(), timezone.now()),
    )


def entry(request: HttpRequest, sequence: int) -> HttpResponse:
    """Show an entry with everything it wrote."""
    this_entry, before = _find(sequence)
    return render(request, "ledger/entry.html", entry_page(this_entry, before))


def body(request: HttpRequest, sequence: int) -> HttpResponse:
    """Send the bytes of an entry, as they were digested."""
    this_entry, _ = _find(sequence)
    name = f'attachment; filename="entry-{sequence}.json"'
    return HttpResponse(
        this_entry.body.encode(),
        content_type="application/json",
        headers={"Content-Disposition": name},
    )


def heads(request: HttpRequest) -> StreamingHttpResponse:
    """Send the head of each day, to be kept elsewhere."""
    return StreamingHttpResponse(
        _heads(),
        content_type="text/plain; charset=utf-8",
        headers={"Content-Disposition": 'attachment; filename="ledger-heads.txt"'},
    )


def _heads() -> Iterator[str]:
    yield HEADS
    for anchor in daily_anchors():
        yield f"{anchor.line}\n"


def _find(sequence: int) -> tuple[LedgerEntry, LedgerEntry | None]:
    this_entry, before = entry_and_before(sequence)
    if this_entry is None:
        raise Http404(f"The ledger has no entry {sequence}.")
    return this_entry, before
