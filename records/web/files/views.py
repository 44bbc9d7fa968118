"""Screens that attach photos and papers to things, and show them."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.http import content_disposition_header

from records.models import Attachment
from records.queries.files import Damaged, read_kept
from records.queries.subjects import called, find
from records.rules.files import JPEG
from records.services import files
from records.web.files.forms import AttachForm
from records.web.shared.pages import page_of
from records.web.shared.permits import why_not_write
from records.web.shared.writing import write

A_YEAR_S = 365 * 24 * 3600


def attach(request: HttpRequest, kind: str, number: str) -> HttpResponse:
    """Attach a photo or paper to a thing."""
    thing = find(kind, number)
    if thing is None:
        raise Http404(f"There is no {kind} {number}.")
    page = page_of(thing)
    return write(
        request,
        AttachForm(request.POST or None, request.FILES or None),
        lambda act, a: files.attach_file(act=act, subject=thing, **a),
        template="files/attach.html",
        then=lambda _: page,
        said="Attached: {0}.",
        context={
            "called": called(thing),
            "page": page,
            "why_not": why_not_write(request),
        },
    )


def file(request: HttpRequest, pk: int) -> HttpResponse:
    """Send an attached file, as it was kept."""
    attachment = get_object_or_404(Attachment.objects.select_related("file"), pk=pk)
    kept = attachment.file
    try:
        data = read_kept(kept)
    except Damaged as damage:
        raise Http404(str(damage)) from damage
    response = HttpResponse(data, content_type=kept.media_type)
    shown = content_disposition_header(
        as_attachment=kept.media_type != JPEG, filename=kept.name
    )
    if shown:
        response["Content-Disposition"] = shown
    response["Cache-Control"] = f"private, max-age={A_YEAR_S}, immutable"
    return response
