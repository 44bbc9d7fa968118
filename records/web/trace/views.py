"""Screens that answer where from and where to."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone

from records.models import Blank, Propeller
from records.queries.reach.suspects import (
    materials_named,
    serials_like,
    who_is_affected,
)
from records.queries.subjects import called, find
from records.services.builds.uses import use_material
from records.spelling.moments import when
from records.web.shared.pages import page_of, trace_page
from records.web.shared.permits import why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write
from records.web.trace.forms import FindForm, QuestionForm, UseForm
from records.web.trace.history import history_page
from records.web.trace.question import (
    NEIGHBOURS,
    answer_facts,
    answer_rows,
    in_words,
)
from records.web.trace.tables import AnswerTable, SerialTable
from records.web.trace.went import went_page, went_rows

MOST_FOUND = 50


def trace(request: HttpRequest) -> HttpResponse:
    """Find a serial, or part of one, or anything by its number."""
    asked = request.GET.get("q", "").strip()
    serials = serials_like(asked, MOST_FOUND) if asked else []
    things, _ = materials_named([asked]) if asked else ([], [])
    if len(serials) + len(things) == 1:
        return redirect(trace_page([*serials, *things][0]))
    context = {
        "form": FindForm(request.GET if asked else None),
        "asked": asked,
        "serials": [(p.serial, trace_page(p), str(p.revision.design)) for p in serials],
        "things": [(called(thing), trace_page(thing)) for thing in things],
    }
    return render(request, "trace/trace.html", context)


def serial(request: HttpRequest, number: str) -> HttpResponse:
    """Show the history of a serial."""
    propellers = Propeller.objects.select_related("blank", "revision__design")
    propeller = get_object_or_404(propellers, serial__iexact=number)
    context = history_page(propeller, why_not_write(request))
    return render(request, "trace/serial.html", context)


def went(request: HttpRequest, kind: str, number: str) -> HttpResponseBase:
    """Show where a material, a press load or a gauge went."""
    thing = find(kind, number)
    if thing is None:
        raise Http404(f"There is no {kind} {number} in the book.")
    reached, lines = went_rows(thing)
    rows: Any = lines  # a list is sorted and paged like a query
    return listing(
        request,
        SerialTable,
        rows,
        template="trace/went.html",
        context=went_page(thing, reached, why_not_write(request)),
    )


def question(request: HttpRequest) -> HttpResponseBase:
    """Answer which serials were made with something, or pressed in some days."""
    form = QuestionForm(request.GET or None)
    if not form.is_valid():
        return render(request, "trace/question.html", {"form": form})
    answer = who_is_affected(form.question())
    whole = request.GET.get("export") == "csv"
    bound = None if whole else NEIGHBOURS
    rows: Any = answer_rows(answer, neighbours=bound)
    context = {
        "form": form,
        "asked": in_words(form.question()),
        "facts": [*answer_facts(answer), ("Asked", when(timezone.now()))],
        "left_out": len(answer.included) + len(answer.excluded) - len(rows),
    }
    return listing(
        request, AnswerTable, rows, template="trace/question.html", context=context
    )


def use(request: HttpRequest, kind: str, number: str) -> HttpResponse:
    """Note material put on a blank or propeller after glue-up."""
    part = find(kind, number)
    if not isinstance(part, Blank | Propeller):
        raise Http404(f"There is no {kind} {number} in the book.")
    return write(
        request,
        UseForm(request.POST or None),
        lambda act, answers: use_material(act=act, part=part, **answers),
        template="trace/use.html",
        then=lambda _: trace_page(part),
        said="Noted: {0}.",
        context={
            "part": called(part),
            "page": page_of(part),
            "why_not": why_not_write(request),
        },
    )
