"""Screens about blanks, and notes at stages."""

from django.db.models import Model
from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from records.models import Blank, Propeller, Stage
from records.queries.builds.register import blanks_listed
from records.queries.subjects import called, find
from records.services.builds import propellers as builds
from records.web.builds import forms
from records.web.builds.pages import blank_page
from records.web.builds.tables import BlankFilter, BlankTable
from records.web.shared.pages import page_of
from records.web.shared.permits import why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write


def blank_list(request: HttpRequest) -> HttpResponseBase:
    """List every blank."""
    return listing(
        request,
        BlankTable,
        blanks_listed(),
        filterset=BlankFilter,
        template="builds/blanks.html",
        context={"why_not": why_not_write(request)},
    )


def blank(request: HttpRequest, number: str) -> HttpResponse:
    """Show a blank."""
    this_blank = get_object_or_404(Blank.objects.with_related(), number=number)
    context = blank_page(this_blank, why_not_write(request))
    return render(request, "builds/blank.html", context)


def plan(request: HttpRequest) -> HttpResponse:
    """Plan a blank."""
    wanted = request.GET.get("revision", "")
    initial = {"revision": wanted} if wanted.isdecimal() else {}
    return write(
        request,
        forms.PlanForm(request.POST or None, initial=initial),
        lambda act, a: builds.plan_blank(act=act, **a),
        template="builds/plan.html",
        then=lambda made: reverse("builds:blank", args=[made.number]),
        said="Blank {0} is planned. Write {0} on every lamination's end.",
        context={"why_not": why_not_write(request)},
    )


def note(request: HttpRequest, kind: str, number: str) -> HttpResponse:
    """Note that something began, ended or was seen at a stage."""
    thing = _thing(kind, number)
    route = thing.route_id if isinstance(thing, Blank) else thing.blank.route_id
    stages = Stage.objects.of(route).filter(scope=kind)
    wanted = stages.filter(code=request.GET.get("stage", "")).first()
    form = forms.NoteForm(
        request.POST or None, stages=stages, initial={"stage": wanted}
    )
    return write(
        request,
        form,
        lambda act, a: builds.note_stage(act=act, subject=thing, **a),
        template="builds/note.html",
        then=lambda _: page_of(thing),
        said="Noted.",
        context={
            "page": page_of(thing),
            "called": called(thing),
            "why_not": why_not_write(request),
        },
    )


def _thing(kind: str, number: str) -> Blank | Propeller:
    thing: Model | None = find(kind, number) if kind in {"blank", "propeller"} else None
    if not isinstance(thing, Blank | Propeller):
        raise Http404(f"There is no {kind} {number}.")
    return thing
