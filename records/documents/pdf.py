"""From a template and facts to the bytes of an archival PDF."""

import base64
import datetime as dt
import json
import os
import subprocess
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.conf import settings
from django.template.loader import render_to_string

PATIENCE_S = 300
MISSING_LIBRARY = (
    "The PDF can't be drawn: the system library Pango is missing. "
    "Install it with: apt-get install libpangoft2-1.0-0"
)


class DrawingFailed(Exception):
    """The PDF could not be drawn; the sentence says what to do."""


@dataclass(frozen=True, slots=True)
class Enclosure:
    """A file carried inside a PDF."""

    name: str
    description: str
    content: bytes


def render_pdf(
    template: str,
    facts: Mapping[str, Any],
    *,
    drawn_at: dt.datetime,
    enclosures: Sequence[Enclosure] = (),
) -> bytes:
    """Draw a PDF/A-3a from a template of templates/documents.

    The same template, facts, moment and enclosures give the same bytes. Call it
    outside a transaction: it takes a second or more.

    Raises
    ------
    DrawingFailed
        When the drawing program could not do it.
    """
    context = {**facts, "drawn_at": drawn_at.isoformat()}
    job = {
        "html": render_to_string(template, context),
        "drawn_at": drawn_at.isoformat(),
        "attachments": [_spelled(e) for e in enclosures],
    }
    return _run(json.dumps(job), drawn_at)


def _spelled(enclosure: Enclosure) -> dict[str, str]:
    return {
        "name": enclosure.name,
        "description": enclosure.description,
        "content": base64.b64encode(enclosure.content).decode(),
    }


def _run(job: str, drawn_at: dt.datetime) -> bytes:
    epoch = str(int(drawn_at.timestamp()))
    try:
        done = subprocess.run(
            [sys.executable, "-m", "records.documents.drawing"],
            input=job.encode(),
            capture_output=True,
            cwd=settings.ROOT,
            env={**os.environ, "SOURCE_DATE_EPOCH": epoch},
            timeout=PATIENCE_S,
            check=False,
        )
    except subprocess.TimeoutExpired as late:
        raise DrawingFailed("The PDF took over five minutes; try it again.") from late
    if done.returncode:
        raise DrawingFailed(_why(done.stderr.decode(errors="replace")))
    return done.stdout


def _why(complaint: str) -> str:
    if "cannot load library" in complaint:
        return MISSING_LIBRARY
    last = complaint.strip().rsplit("\n", 1)[-1]
    return f"The PDF could not be drawn: {last}"
