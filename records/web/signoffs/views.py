"""Screens where stages are signed, and where signatures are looked at."""

from typing import Any

from django.db.models import Model
from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.utils import timezone

from records.models import SignOff
from records.queries.builds.progress import StageState, progress_of
from records.queries.builds.stage_rows import SCOPES
from records.queries.signoffs.register import refusals_listed, signoffs_listed
from records.queries.subjects import find
from records.services.ledger import Act
from records.services.people.reauthenticate import reauthenticate
from records.services.refusal import Refusal
from records.services.signoffs import refuse_signature, sign_stage
from records.web.shared.acts import person
from records.web.shared.bench import device_enrolled
from records.web.shared.pages import page_of
from records.web.shared.tables import listing
from records.web.shared.writing import write
from records.web.signoffs.forms import SignForm
from records.web.signoffs.pages import open_kinds, sign_page_of, signoff_page
from records.web.signoffs.tables import (
    RefusalFilter,
    RefusalTable,
    SignOffFilter,
    SignOffTable,
)


def signoff_list(request: HttpRequest) -> HttpResponseBase:
    """List every signature."""
    return listing(
        request,
        SignOffTable,
        signoffs_listed(),
        filterset=SignOffFilter,
        template="signoffs/signoffs.html",
    )


def refused_list(request: HttpRequest) -> HttpResponseBase:
    """List every attempt to sign that was refused."""
    return listing(
        request,
        RefusalTable,
        refusals_listed(),
        filterset=RefusalFilter,
        template="signoffs/refused.html",
    )


def signoff(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a signature, and whether it still stands."""
    signature = get_object_or_404(signoffs_listed(), pk=pk)
    return render(request, "signoffs/signoff.html", signoff_page(signature))


def sign(request: HttpRequest, kind: str, number: str, code: str) -> HttpResponse:
    """Sign a stage of a thing off."""
    thing = _thing(kind, number)
    progress = progress_of(thing)
    state = progress.at(thing, code)
    if state is None:
        raise Http404
    me, now, bench = person(request), timezone.now(), device_enrolled(request)
    kinds, why = open_kinds(progress, state, me, now)
    form = SignForm(
        request.POST or None,
        kinds=kinds,
        bench=bench,
        why=why,
        initial={"seen_digest": state.digest()},
    )
    context = sign_page_of(progress, state, me, now)
    if not kinds and not context["why_not"]:
        context["why_not"] = why
    return write(
        request,
        form,
        lambda act, a: _sign(act, state, a, bench=bench),
        template="signoffs/sign.html",
        then=lambda _: page_of(thing),
        said=f"{state.stage.name} is signed.",
        context=context,
    )


def _sign(
    act: Act, state: StageState, given: dict[str, Any], *, bench: bool
) -> SignOff:
    password, pin = given.pop("password"), given.pop("pin", "")
    try:
        method = reauthenticate(
            act.by, act.at, password=password, pin=pin, device_enrolled=bench
        )
    except Refusal as refusal:
        refuse_signature(
            act=act, subject=state.subject, stage=state.stage, why=refusal.findings
        )
        raise
    return sign_stage(
        act=act,
        subject=state.subject,
        stage=state.stage,
        method=method,
        happened_at=act.at,
        **given,
    )


def _thing(kind: str, number: str) -> Model:
    thing = find(kind, number) if kind in SCOPES else None
    if thing is None:
        raise Http404
    return thing
