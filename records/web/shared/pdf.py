"""Send a PDF to be looked at."""

from django.http import HttpResponse
from django.utils.http import content_disposition_header


def pdf_answer(pdf: bytes, name: str) -> HttpResponse:
    """Answer with a PDF to be shown, and saved under a name."""
    response = HttpResponse(pdf, content_type="application/pdf")
    shown = content_disposition_header(as_attachment=False, filename=name)
    if shown:
        response["Content-Disposition"] = shown
    response["Cache-Control"] = "private, no-store"
    return response
