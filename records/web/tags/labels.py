"""Sheets of labels: choose what to print, then print it."""

import re
from typing import Any, Final

from django.db.models import Model
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode

from records.documents.pdf import DrawingFailed
from records.documents.tags.labels import SHEETS, Label, draw_labels
from records.models import Shop, Tag
from records.models.subjects import ANY_KINDS
from records.queries.subjects import WORDS, number_of
from records.services.ledger import Act
from records.services.tags import tags_for
from records.web.shared.pdf import pdf_answer
from records.web.shared.permits import why_not_write
from records.web.shared.writing import write
from records.web.tags.forms import LabelForm

_KEY: Final = re.compile(r"[0-9]{1,18}")
# What stands under the number, one way from the thing for each kind.
LINES: Final = {
    "propeller": ("revision", "design"),
    "blank": ("revision", "design"),
    "board": ("lot", "material"),
    "lamination": ("board",),
    "lot": ("material",),
    "mix": ("sheet", "adhesive"),
    "load": ("press",),
    "coupon": ("mix",),
    "gauge": ("name",),
}


def choose(request: HttpRequest) -> HttpResponse:
    """Choose what to print, and give tags to what has none yet."""
    return write(
        request,
        LabelForm(request.POST or None, initial={"numbers": _characteristic(request)}),
        _tagged,
        template="tags/labels.html",
        then=lambda query: f"{reverse('tags:print_labels')}?{query}",
        said="The sheet is ready to print.",
        context={"why_not": why_not_write(request)},
    )


def print_labels(request: HttpRequest) -> HttpResponse:
    """Draw the sheet of labels."""
    shop = get_object_or_404(Shop)
    asked = request.GET.get("tags", "").split(".")
    pks = [int(pk) for pk in asked if _KEY.fullmatch(pk)]
    ways = ["__".join((kind, *LINES[kind][:-1])) for kind in ANY_KINDS]
    ends = ["__".join((kind, *LINES[kind])) for kind in ANY_KINDS if kind != "gauge"]
    tags = Tag.objects.select_related(*ways, *ends).in_bulk(pks)
    try:
        pdf = draw_labels(
            [_label(tags[pk], shop) for pk in pks if pk in tags],
            SHEETS.get(request.GET.get("sheet", ""), SHEETS["a4"]),
            shop=shop.name,
            drawn_at=timezone.now(),
            size_mm=float(request.GET.get("size", "20")),
            copies=int(request.GET.get("copies", "1")),
            start=int(request.GET.get("start", "1")),
        )
    except (ValueError, DrawingFailed) as error:
        context = {"sentence": f"The labels can't be printed: {error}."}
        return render(request, "tags/cant_print.html", context, status=422)
    return pdf_answer(pdf, "labels.pdf")


def _tagged(act: Act, given: dict[str, Any]) -> str:
    things: list[Model] = given["numbers"]
    tags = tags_for(act=act, things=things)
    return urlencode(
        {
            "tags": ".".join(str(tag.pk) for tag in tags),
            "sheet": given["sheet"],
            "copies": given["copies"],
            "start": given["start"],
            "size": given["size_mm"],
        }
    )


def _characteristic(request: HttpRequest) -> str:
    kind, number = request.GET.get("kind", ""), request.GET.get("number", "")
    return f"{WORDS.get(kind, '')} {number}".strip()


def _label(tag: Tag, shop: Shop) -> Label:
    thing = tag.subject
    end: Any = thing
    for step in LINES[tag.subject_kind]:
        end = getattr(end, step)
    return Label(
        base_url=shop.base_url,
        code=tag.code,
        number=number_of(thing),
        kind=WORDS[tag.subject_kind].capitalize(),
        line=str(end),
    )
