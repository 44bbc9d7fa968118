"""Send a PDF that was drawn just now."""

from django.http import HttpResponse
from django.utils.http import content_disposition_header


def pdf_answer(pdf: bytes, name: str) -> HttpResponse:
    """Answer with a PDF to be shown, and saved under a name."""
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = content_disposition_header(
        as_attachment=False, filename=name
    )
    response["Cache-Control"] = "private, no-store"
    return response
