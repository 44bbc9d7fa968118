"""Travel cards: a page to ask for one, and the card itself."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone

from records.documents.builds.travel_card import card_facts, draw_travel_card
from records.documents.pdf import DrawingFailed
from records.models import Blank, Propeller
from records.queries.subjects import called, find, kind_of, number_of
from records.queries.tags import tag_on
from records.services.tags import tag_for
from records.web.shared.forms import ShopForm
from records.web.shared.pages import page_of
from records.web.shared.pdf import pdf_answer
from records.web.shared.permits import why_not_write
from records.web.shared.writing import write


def card(request: HttpRequest, kind: str, number: str) -> HttpResponse:
    """Make the travel card of a blank or propeller; it gets its tag with it."""
    thing = _find(kind, number)
    return write(
        request,
        ShopForm(request.POST or None),
        lambda act, _: tag_for(act=act, thing=thing),
        template="tags/card.html",
        then=lambda _: reverse("tags:card_pdf", args=[kind, number_of(thing)]),
        said="The card is ready to print.",
        context={
            "called": called(thing),
            "page": page_of(thing),
            "facts": card_facts(thing),
            "why_not": why_not_write(request),
        },
    )


def card_pdf(request: HttpRequest, kind: str, number: str) -> HttpResponse:
    """Draw the travel card."""
    thing = _find(kind, number)
    tag = tag_on(thing)
    if tag is None:
        raise Http404(f"{called(thing)} has no tag yet: ask for its card first.")
    try:
        pdf = draw_travel_card(thing, tag, timezone.now())
    except DrawingFailed as error:
        context = {"sentence": str(error)}
        return render(request, "tags/cant_print.html", context, status=422)
    return pdf_answer(pdf, f"card-{kind_of(thing)}-{number_of(thing)}.pdf")


def _find(kind: str, number: str) -> Blank | Propeller:
    thing = find(kind, number)
    if not isinstance(thing, Blank | Propeller):
        raise Http404(f"There is no {kind} {number} that a card goes along with.")
    return thing
