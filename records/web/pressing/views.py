"""Screens about press loads: closed, sampled, opened."""

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone

from records.models import Blank, Press, PressLoad, PressSample
from records.queries.gluing.area import joint_areas_mm2
from records.queries.pressing.loads import (
    blanks_to_press,
    last_sample_at,
    loads_listed,
)
from records.services.ledger import Act
from records.services.pressing import loads as pressing
from records.spelling.quantities import both, pressure
from records.web.pressing import forms
from records.web.pressing.pages import load_page
from records.web.pressing.tables import LoadFilter, LoadTable, SampleTable
from records.web.shared.forms import ShopForm
from records.web.shared.permits import why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write

CAUTION = (
    "A press under load can throw parts or crush: stand clear of rams and screws, "
    "and keep to its maker's instructions."
)


def load_list(request: HttpRequest) -> HttpResponseBase:
    """List every load."""
    return listing(
        request,
        LoadTable,
        loads_listed(),
        filterset=LoadFilter,
        template="pressing/loads.html",
        context={"why_not": why_not_write(request)},
    )


def load(request: HttpRequest, number: str) -> HttpResponse:
    """Show a load."""
    context = load_page(_find(number), timezone.now(), why_not_write(request))
    return render(request, "pressing/load.html", context)


def load_press(request: HttpRequest) -> HttpResponse:
    """Close a press on one or more blanks."""
    chosen = Blank.objects.filter(number=request.GET.get("blank", ""))
    presses = list(Press.objects.filter(in_use=True)[:2])
    initial = {
        "blanks": list(chosen.values_list("pk", flat=True)),
        "press": presses[0] if len(presses) == 1 else None,
    }
    return write(
        request,
        forms.LoadForm(request.POST or None, initial=initial),
        lambda act, a: pressing.load_press(act=act, **a),
        template="pressing/load_press.html",
        then=lambda made: reverse("pressing:load", args=[made.number]),
        said=_closed,
        context={
            "areas": _areas(),
            "caution": CAUTION,
            "why_not": why_not_write(request),
        },
    )


def add_sample(request: HttpRequest, number: str) -> HttpResponse:
    """Write down what the gauge shows."""
    this_load = _find(number)
    last = last_sample_at(this_load.press)
    usual = {"unit": last.unit, "gauge": last.gauge} if last else {}
    return _write_about(
        request,
        this_load,
        forms.SampleForm(request.POST or None, load=this_load, initial=usual),
        lambda act, a: pressing.add_sample(act=act, load=this_load, **a),
        said=_shown,
        title="What the gauge shows",
        submit="Enter it",
    )


def import_samples(request: HttpRequest, number: str) -> HttpResponse:
    """Read a logger's file into a load."""
    this_load = _find(number)
    form = forms.ImportForm(request.POST or None, request.FILES or None, load=this_load)
    return _write_about(
        request,
        this_load,
        form,
        lambda act, a: pressing.import_samples(
            act=act, load=this_load, text=a.pop("file"), **a
        ),
        said=lambda made: f"{len(made)} samples are in the book.",
        title="Read a logger's file",
        submit="Read it in",
    )


def open_press(request: HttpRequest, number: str) -> HttpResponse:
    """Note that pressure is off."""
    this_load = _find(number)
    return _write_about(
        request,
        this_load,
        forms.OpenForm(request.POST or None),
        lambda act, a: pressing.open_press(act=act, load=this_load, **a),
        said=_opened,
        title="Open the press",
        submit="Pressure is off",
        caution=CAUTION,
    )


def correct_sample(request: HttpRequest, pk: int) -> HttpResponse:
    """Write a sample anew, with the reason."""
    query = PressSample.objects.select_related("load__press", "gauge")
    sample = get_object_or_404(query, pk=pk)
    names = ("entered", "unit", "temperature_c")
    initial = {name: getattr(sample, name) for name in names}
    return _write_about(
        request,
        sample.load,
        forms.CorrectSampleForm(
            request.POST or None, load=sample.load, initial=initial
        ),
        lambda act, a: pressing.correct_sample(act=act, sample=sample, **a),
        said=_shown,
        title="Correct a sample",
        submit="Correct it",
    )


def sample_list(request: HttpRequest, number: str) -> HttpResponseBase:
    """List every standing sample of a load."""
    this_load = _find(number)
    samples = PressSample.objects.standing().filter(load=this_load)
    return listing(
        request,
        SampleTable,
        samples.select_related("gauge").order_by("at"),
        template="pressing/samples.html",
        context={"load": this_load},
    )


def _write_about(
    request: HttpRequest,
    this_load: PressLoad,
    form: ShopForm,
    do: Callable[[Act, dict[str, Any]], Any],
    *,
    said: str | Callable[[Any], str],
    title: str,
    submit: str,
    caution: str = "",
) -> HttpResponse:
    return write(
        request,
        form,
        do,
        template="pressing/about.html",
        then=lambda _: reverse("pressing:load", args=[this_load.number]),
        said=said,
        context={
            "load": this_load,
            "what": title,
            "submit": submit,
            "caution": caution,
            "why_not": why_not_write(request),
        },
    )


def _find(number: str) -> PressLoad:
    return get_object_or_404(PressLoad.objects.with_related(), number=number)


def _areas() -> list[tuple[str, str]]:
    """Say what the drawings of the blanks that can be pressed give."""
    blanks = list(blanks_to_press())
    areas = joint_areas_mm2({blank.revision for blank in blanks})
    return [
        (blank.number, both(float(areas[blank.revision_id]), "mm2")) for blank in blanks
    ]


def _closed(made: PressLoad) -> str:
    asked = f"{pressure(made.pressure_low_pa)} to {pressure(made.pressure_high_pa)}"
    flags = [*made.flags.splitlines()]
    return " ".join([f"Load {made}: hold {asked} at the glue line.", *flags])


def _opened(made: PressLoad) -> str:
    return " ".join(["The press is open.", *made.opened_flags.splitlines()])


def _shown(made: PressSample) -> str:
    return (
        f"{made.entered} {made.unit} is {pressure(made.glue_line_pa)} at the glue line."
    )
