"""Draw one PDF from one HTML page: run as a program of its own.

WeasyPrint takes a second to import and keeps its memory, so it lives and dies in a
process beside the web server: `python -m records.documents.drawing` reads a job as
JSON and writes the PDF's bytes.
"""

import base64
import datetime as dt
import json
import sys
from typing import Any, TypedDict


class AttachedFile(TypedDict):
    """A file inside the PDF; `content` is base64."""

    name: str
    description: str
    content: str


class Job(TypedDict):
    """What to draw: the page, its moment (ISO 8601) and its attached files."""

    html: str
    drawn_at: str
    attachments: list[AttachedFile]


def draw(job: Job) -> bytes:
    """Draw a PDF/A-3a (archival, tagged, with attachments) from a job."""
    from weasyprint import HTML  # noqa: PLC0415 - a second to import
    from weasyprint.urls import URLFetcher  # noqa: PLC0415

    moment = dt.datetime.fromisoformat(job["drawn_at"])
    only_inline = URLFetcher(allowed_protocols={"data"}, fail_on_errors=True)
    html = HTML(string=job["html"], url_fetcher=only_inline)
    pdf: bytes = html.write_pdf(
        pdf_variant="pdf/a-3a",
        attachments=[_attachment(a, moment) for a in job["attachments"]],
    )
    return pdf


def _attachment(file: AttachedFile, moment: dt.datetime) -> Any:
    from weasyprint import Attachment  # noqa: PLC0415

    return Attachment(
        string=base64.b64decode(file["content"]),
        name=file["name"],
        description=file["description"],
        relationship="Data",
        created=moment,
        modified=moment,
    )


if __name__ == "__main__":
    sys.stdout.buffer.write(draw(json.load(sys.stdin)))
