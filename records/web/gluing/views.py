"""Screens of the glue-up: mixes, and the clock of a stack."""

import datetime as dt
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone

from records.models import Blank, JointSpread, Mix
from records.queries.gluing.mixes import mixes_for, mixes_listed
from records.services import gluing
from records.services.ledger import Act
from records.web.gluing import forms
from records.web.gluing.batch import batches_for
from records.web.gluing.glue_up import (
    begun_at,
    closed_now,
    glue_up_page,
    usual_joint,
)
from records.web.gluing.pages import life_in_words, mix_page
from records.web.gluing.tables import MixFilter, MixTable
from records.web.shared.permits import why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write

CAUTION = (
    "Gloves, eye protection and fresh air. Read the maker's safety sheet, and keep "
    "to it where it says more than this book."
)


def mix_list(request: HttpRequest) -> HttpResponseBase:
    """List every mix."""
    return listing(
        request,
        MixTable,
        mixes_listed(),
        filterset=MixFilter,
        template="gluing/mixes.html",
        context={"why_not": why_not_write(request)},
    )


def mix(request: HttpRequest, number: str) -> HttpResponse:
    """Show a mix."""
    this_mix = get_object_or_404(Mix.objects.with_related(), number=number)
    context = mix_page(this_mix, why_not_write(request))
    return render(request, "gluing/mix.html", context)


def mix_glue(request: HttpRequest) -> HttpResponse:
    """Write down a mix, and go back to the stack it is for."""
    blank = _asked_for(request)
    here = reverse("gluing:glue_up", args=[blank.number]) if blank else ""
    return write(
        request,
        forms.MixForm(request.POST or None, initial=_as_before(blank, timezone.now())),
        lambda act, a: gluing.mix_glue(act=act, **a),
        template="gluing/mix_glue.html",
        then=lambda made: here or reverse("gluing:mix", args=[made.number]),
        said=_mixed,
        context={
            "blank": blank,
            "batches": batches_for(blank) if blank else [],
            "caution": CAUTION,
            "why_not": why_not_write(request),
        },
    )


def glue_up(request: HttpRequest, blank: str) -> HttpResponse:
    """Show the clock of a stack; its button closes the next joint now."""
    this_blank, now = _find(blank), timezone.now()
    here = reverse("gluing:glue_up", args=[this_blank.number])
    if request.GET.get("on") == "now":
        return redirect(f"{here}?on={now:%Y-%m-%dT%H:%M:%SZ}")
    since = begun_at(request.GET.get("on", ""), now)
    page = glue_up_page(this_blank, now, since, why_not_write(request))
    return write(
        request,
        forms.ClosedNowForm(request.POST or None, initial=closed_now(page)),
        lambda act, a: _close_now(act, this_blank, a),
        template="gluing/glue_up.html",
        then=lambda _: here,
        said=_closed,
        context=page,
    )


def close_joint(request: HttpRequest, blank: str) -> HttpResponse:
    """Write down a joint with its own times."""
    this_blank, now = _find(blank), timezone.now()
    form = forms.JointForm(
        request.POST or None,
        mixes=mixes_for(this_blank, now),
        initial=usual_joint(this_blank, now),
    )
    return write(
        request,
        form,
        lambda act, a: gluing.close_joint(act=act, blank=this_blank, **a),
        template="gluing/joint.html",
        then=lambda _: reverse("gluing:glue_up", args=[this_blank.number]),
        said=_closed,
        context={"blank": this_blank, "why_not": why_not_write(request)},
    )


def correct_joint(request: HttpRequest, pk: int) -> HttpResponse:
    """Write a joint anew, with the reason."""
    query = JointSpread.objects.select_related("blank__revision__design", "mix")
    spread = get_object_or_404(query, pk=pk)
    mixes = [spread.mix, *mixes_for(spread.blank, timezone.now())]
    names = ("joint", "mix", "side", "spread_at", "closed_at", "spread_g")
    initial = {name: getattr(spread, name) for name in names}
    return write(
        request,
        forms.CorrectJointForm(request.POST or None, mixes=mixes, initial=initial),
        lambda act, a: gluing.correct_joint(act=act, spread=spread, **a),
        template="gluing/correct_joint.html",
        then=lambda _: reverse("builds:blank", args=[spread.blank.number]),
        said=_closed,
        context={"spread": spread, "why_not": why_not_write(request)},
    )


def _find(number: str) -> Blank:
    return get_object_or_404(Blank.objects.with_related(), number=number)


def _asked_for(request: HttpRequest) -> Blank | None:
    wanted = request.GET.get("blank", "")
    return Blank.objects.with_related().filter(number=wanted).first()


def _close_now(act: Act, blank: Blank, answers: dict[str, Any]) -> JointSpread:
    return gluing.close_joint(
        act=act,
        blank=blank,
        joint=answers["this_joint"],
        mix=answers["with_mix"],
        spread_at=answers["since"],
        closed_at=act.at,
    )


def _as_before(blank: Blank | None, now: dt.datetime) -> dict[str, Any]:
    """Propose the glue, containers and room of the last mix for this stack."""
    made = mixes_for(blank, now) if blank else []
    names = ("sheet", "resin_lot", "hardener_lot", "temperature_c", "humidity_pct")
    return {name: getattr(made[-1], name) for name in names} if made else {}


def _mixed(made: Mix) -> str:
    sentence = f"Mix {made}, {life_in_words(made)}. Write {made} on the pot."
    return " ".join([sentence, *made.flags.splitlines()])


def _closed(made: JointSpread) -> str:
    word = f"Joint {made.joint} is closed with mix {made.mix}."
    return " ".join([word, *made.flags.splitlines()])
