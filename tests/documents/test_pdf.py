"""From a template to an archival PDF, or a sentence that says what to do."""

import datetime as dt
import subprocess

import pytest

from records.documents import pdf as module
from records.documents.paper import paper
from records.documents.pdf import DrawingFailed, Enclosure, render_pdf
from tests.documents import reading

pytestmark = pytest.mark.own_process
AT = dt.datetime(2026, 3, 2, 12, 0, tzinfo=dt.UTC)
TEMPLATE = "documents/paper.html"
CONTEXT = paper(title="A & B", shop="Test Airscrew Works")


def test_the_title_moment_and_enclosure_are_in_the_file():
    pdf = render_pdf(
        TEMPLATE, CONTEXT, drawn_at=AT, enclosures=[Enclosure("a.json", "A", b"{}")]
    )
    reader = reading.reader(pdf)
    assert reader.metadata.title == "A & B"
    assert reader.metadata.author == "Test Airscrew Works"
    assert reader.metadata.creation_date == AT
    assert reader.attachments["a.json"] == [b"{}"]


def test_the_same_page_and_moment_give_the_same_bytes():
    first = render_pdf(TEMPLATE, CONTEXT, drawn_at=AT)
    assert render_pdf(TEMPLATE, CONTEXT, drawn_at=AT) == first
    later = AT + dt.timedelta(seconds=1)
    assert render_pdf(TEMPLATE, CONTEXT, drawn_at=later) != first


def done(returncode, stderr):
    return subprocess.CompletedProcess([], returncode, b"", stderr)


@pytest.mark.parametrize(
    ("complaint", "sentence"),
    [
        (b"OSError: cannot load library 'libpango'", "apt-get install libpangoft2"),
        (
            b"Traceback\nValueError: bad page",
            "could not be drawn: ValueError: bad page",
        ),
    ],
)
def test_a_failure_says_what_to_do(monkeypatch, complaint, sentence):
    monkeypatch.setattr(module.subprocess, "run", lambda *_, **__: done(1, complaint))
    with pytest.raises(DrawingFailed, match=sentence):
        render_pdf(TEMPLATE, CONTEXT, drawn_at=AT)


def test_a_page_that_takes_too_long_is_given_up(monkeypatch):
    def never(*_, **__):
        raise subprocess.TimeoutExpired("draw", 300)

    monkeypatch.setattr(module.subprocess, "run", never)
    with pytest.raises(DrawingFailed, match="try it again"):
        render_pdf(TEMPLATE, CONTEXT, drawn_at=AT)
