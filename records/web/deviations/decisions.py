"""Screens where holds are put on and released, and where decisions are made."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from records.models import Authority, Hold
from records.models.subjects import ANY_KINDS
from records.queries.reach.holds import standing_holds
from records.queries.subjects import find as find_thing
from records.rules.deviations.opening import subject_called
from records.services.deviations.dispositions import dispose
from records.services.holds import hold as put_on
from records.services.holds import release_hold
from records.spelling.moments import when
from records.web.deviations.decide_forms import MEANS, NEEDS, DecideForm, Kind
from records.web.deviations.forms import HoldForm, ReleaseForm
from records.web.deviations.prefill import thing_text
from records.web.deviations.views import find, page_of_deviation, write_about
from records.web.shared.pages import page_of
from records.web.shared.permits import why_not, why_not_write
from records.web.shared.writing import write


def decide(request: HttpRequest, number: str) -> HttpResponse:
    """Choose the kind of decision."""
    deviation = find(number)
    context = {
        "deviation": deviation,
        "page": page_of_deviation(deviation),
        "why_not": why_not(request, Authority.Act.DISPOSE),
        "kinds": [
            (
                Kind(kind).label,
                MEANS[kind],
                reverse("deviations:decide_as", args=[deviation.number, kind]),
            )
            for kind in NEEDS
        ],
    }
    return render(request, "deviations/decide.html", context)


def decide_as(request: HttpRequest, number: str, kind: str) -> HttpResponse:
    """Decide about a deviation."""
    deviation = find(number)
    if kind not in NEEDS:
        raise Http404(f"There is no decision called {kind}.")
    form = DecideForm(
        request.POST or None, request.FILES or None, kind=kind, deviation=deviation
    )
    return write_about(
        request,
        deviation,
        form,
        lambda act, a: dispose(act=act, deviation=deviation, kind=kind, **a),
        said=f"Decided: {Kind(kind).label}.",
        title=f"Decide: {Kind(kind).label}",
        barred=why_not(request, Authority.Act.DISPOSE),
        means=MEANS[kind],
        caution=(
            "Whether a part may fly is decided by its approved design, the local rules "
            "and licensed people. This book only keeps what they decided."
        ),
    )


def holds(request: HttpRequest) -> HttpResponse:
    """List what is on hold."""
    lines = [
        {
            "head": subject_called(hold),
            "url": page_of(hold.subject),
            "about": f"{hold.reason}. Since {when(hold.happened_at)}, "
            f"{hold.written_by}",
            "deviation": hold.deviation,
            "release": reverse("deviations:release", args=[hold.pk]),
        }
        for hold in standing_holds()
    ]
    context = {"holds": lines, "why_not": why_not_write(request)}
    return render(request, "deviations/holds.html", context)


def hold(request: HttpRequest) -> HttpResponse:
    """Put one thing on hold."""
    thing = find_thing(request.GET.get("kind", ""), request.GET.get("number", ""))
    start = {"thing": thing_text(thing)} if thing else {}
    return write(
        request,
        HoldForm(request.POST or None, initial=start),
        lambda act, a: put_on(act=act, **a),
        template="deviations/hold.html",
        then=lambda made: page_of(made.subject),
        said=lambda made: f"On hold: {subject_called(made)}.",
        context={"why_not": why_not_write(request)},
    )


def release(request: HttpRequest, pk: int) -> HttpResponse:
    """Release a hold."""
    rows = Hold.objects.select_related("deviation", *ANY_KINDS)
    standing_hold = get_object_or_404(rows, pk=pk)
    back = page_of(standing_hold.subject)
    if standing_hold.deviation:
        back = page_of_deviation(standing_hold.deviation)
    return write(
        request,
        ReleaseForm(request.POST or None),
        lambda act, a: release_hold(act=act, hold=standing_hold, **a),
        template="deviations/release.html",
        then=lambda _: back,
        said=lambda _: f"Released: {subject_called(standing_hold)}.",
        context={
            "hold": standing_hold,
            "name": subject_called(standing_hold),
            "page": back,
            "why_not": why_not(request, Authority.Act.DISPOSE),
        },
    )
