"""Screens on which a stack is laid: whole, place by place, or as proposed."""

from collections.abc import Callable, Sequence
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse

from records.models import Blank, Lamination
from records.queries.builds.register import laminations_free, species_allowed, stack_of
from records.queries.builds.stacking import Proposal, proposed
from records.queries.gluing.mixes import joints_closed
from records.rules.builds.stacking import (
    may_be_restacked,
    place_can_be_filled,
    place_is_open,
)
from records.rules.finding import Finding
from records.services.builds import propellers as builds
from records.services.ledger import Act
from records.services.refusal import refuse
from records.spelling.quantities import unbalance
from records.web.builds import forms
from records.web.shared.forms import ShopForm
from records.web.shared.parts import Fact
from records.web.shared.permits import why_not_write
from records.web.shared.writing import write

BEGIN = (
    "From here the order is fixed. Everything is at hand: glue, clamps, help, "
    "and the press is free."
)
CAUTION = "Gloves, eye protection and fresh air; keep to the glue maker's safety sheet."


def lay(request: HttpRequest, number: str) -> HttpResponse:
    """Lay a stack anew, from the bottom up."""
    blank = _find(number)
    laid = stack_of(blank)
    form = forms.StackForm(
        request.POST or None,
        places=blank.revision.laminations,
        choices=[*laid, *_free(blank)],
        laid=laid,
    )
    return _write_about(
        request,
        blank,
        form,
        lambda act, _: builds.lay_laminations(act=act, blank=blank, order=form.order()),
        said="The stack is laid.",
        title="Lay the stack",
        submit="Lay it so",
        barred=may_be_restacked(blank),
    )


def place(request: HttpRequest, number: str, position: int) -> HttpResponse:
    """Lay another lamination in one place."""
    blank = _find(number)
    lies = next((x for x in stack_of(blank) if x.position == position), None)
    return _write_about(
        request,
        blank,
        forms.PlaceForm(
            request.POST or None,
            choices=_free(blank, lies),
            initial={"lamination": lies, "turned": bool(lies and lies.turned)},
        ),
        lambda act, a: builds.lay_in_place(
            act=act, blank=blank, position=position, **a
        ),
        said="{0} is laid.",
        title=f"Place {position}",
        submit="Lay it here",
        lies=lies,
        barred=(
            place_is_open(blank, position, joints_closed(blank))
            if lies
            else place_can_be_filled(blank, position)
        ),
    )


def proposal(request: HttpRequest, number: str) -> HttpResponse:
    """Lay the stack in the order that balances best."""
    blank = _find(number)
    better = proposed(stack_of(blank), float(blank.revision.lamination_mm))
    return _write_about(
        request,
        blank,
        forms.ConfirmForm(request.POST or None),
        lambda act, _: _lay_as_proposed(act, blank, better),
        said="The stack is laid as proposed.",
        title="A better order",
        submit="Lay it so",
        template="builds/proposal.html",
        order=[
            (at, x.number, "turned end for end" if turned else "")
            for at, (x, turned) in enumerate(better.order, start=1)
        ],
        gains=_gains(better),
        proposal=better,
    )


def begin(request: HttpRequest, number: str) -> HttpResponse:
    """Fix the order, and begin the glue-up."""
    blank = _find(number)
    return _write_about(
        request,
        blank,
        forms.ConfirmForm(request.POST or None),
        lambda act, _: builds.begin_glue_up(act=act, blank=blank),
        said="The order is fixed. Mix glue when everything is at hand.",
        title="Begin the glue-up",
        submit="Begin",
        barred=may_be_restacked(blank),
        then=reverse("gluing:glue_up", args=[blank.number]),
        lead=BEGIN,
        caution=CAUTION,
    )


def take_out(request: HttpRequest, piece: str) -> HttpResponse:
    """Take a lamination out of its stack."""
    query = Lamination.objects.select_related("blank__revision__design")
    lamination = get_object_or_404(query, number=piece)
    if lamination.blank is None:
        raise Http404(f"{piece} lies in no blank.")
    return _write_about(
        request,
        lamination.blank,
        forms.ConfirmForm(request.POST or None),
        lambda act, _: builds.take_out_lamination(act=act, lamination=lamination),
        said="{0} is free again.",
        title=f"Take out {lamination}",
        submit="Take it out",
    )


def _write_about(
    request: HttpRequest,
    blank: Blank,
    form: ShopForm,
    do: Callable[[Act, dict[str, Any]], Any],
    *,
    said: str,
    title: str,
    template: str = "builds/about.html",
    then: str = "",
    barred: Sequence[Finding] = (),
    **context: Any,
) -> HttpResponse:
    page = reverse("builds:blank", args=[blank.number])
    return write(
        request,
        form,
        do,
        template=template,
        then=lambda _: then or page,
        said=said,
        context={
            "blank": blank,
            "what": title,
            "why_not": why_not_write(request) or said_at_once(barred),
            **context,
        },
    )


def said_at_once(findings: Sequence[Finding]) -> str:
    """Say all that bars a button in one line."""
    return " ".join(finding.sentence for finding in findings)


def _find(number: str) -> Blank:
    return get_object_or_404(Blank.objects.with_related(), number=number)


def _free(blank: Blank, also: Lamination | None = None) -> Any:
    """List the free laminations of the species that the design allows, and one more."""
    allowed = species_allowed(blank.revision)
    return laminations_free(also).filter(board__lot__material__in=allowed)


def _lay_as_proposed(act: Act, blank: Blank, better: Proposal) -> Blank:
    if not better.order:
        raise refuse(better.why_not or "Nothing is laid yet.")
    return builds.lay_laminations(act=act, blank=blank, order=better.order)


def _gains(better: Proposal) -> list[Fact]:
    pairs = [
        ("Along the blades", better.along_now, better.along_then),
        ("Through the stack", better.through_now, better.through_then),
    ]
    return [
        Fact(name, f"{unbalance(now)} now, {unbalance(then)} as proposed")
        for name, now, then in pairs
        if now is not None and then is not None
    ]
