"""The PDFs: a record as it was issued, and the build record as the book stands."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone

from records.documents.builds.record import draw_build_record
from records.documents.pdf import DrawingFailed
from records.models import ConformityRecord, Propeller
from records.queries.files import Damaged, read_kept
from records.web.shared.pdf import pdf_answer


def record_pdf(request: HttpRequest, number: str) -> HttpResponse:
    """Send the bytes of a record as they were issued."""
    records = ConformityRecord.objects.select_related("pdf")
    record = get_object_or_404(records, number__iexact=number)
    try:
        data = read_kept(record.pdf)
    except Damaged as damage:
        raise Http404(str(damage)) from damage
    return pdf_answer(data, record.pdf.name)


def build_record(request: HttpRequest, serial: str) -> HttpResponse:
    """Draw the build record of a propeller now."""
    propellers = Propeller.objects.with_related()
    propeller = get_object_or_404(propellers, serial__iexact=serial)
    try:
        data = draw_build_record(propeller, timezone.now())
    except DrawingFailed as error:
        context = {"sentence": str(error), "propeller": propeller}
        return render(request, "conformity/drawing_failed.html", context, status=422)
    return pdf_answer(data, f"build-record-{propeller.serial}.pdf")
