"""Screens about people: accounts, authority, passwords, bench devices."""

import datetime as dt
from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone

from records.models import Authority, Person
from records.queries.people import who_works_here
from records.rules.authority import may
from records.services.ledger import Act
from records.services.people import accounts as people
from records.spelling.moments import day
from records.spelling.verdicts import Verdict
from records.web.people import forms
from records.web.people.tables import PeopleTable
from records.web.shared import acts
from records.web.shared.forms import ShopForm
from records.web.shared.parts import Action, Fact
from records.web.shared.tables import listing
from records.web.shared.writing import write


def people_list(request: HttpRequest) -> HttpResponseBase:
    """List everybody."""
    return listing(
        request,
        PeopleTable,
        who_works_here(timezone.localdate()),
        template="people/people.html",
        context={"why_not": why_not_manage(request)},
    )


def person(request: HttpRequest, login: str) -> HttpResponse:
    """Show somebody's page."""
    this_person = _find(login)
    authorities = this_person.authorities.select_related("written_by").order_by(
        "act", "from_on", "pk"
    )
    context = {
        "person": this_person,
        "mine": this_person == request.user,
        "facts": _facts(this_person),
        "authorities": [_line(a, timezone.localdate()) for a in authorities],
        "actions": _actions(this_person, why_not_manage(request)),
    }
    return render(request, "people/person.html", context)


def add(request: HttpRequest) -> HttpResponse:
    """Add somebody."""
    return write(
        request,
        forms.NewPersonForm(request.POST or None),
        lambda act, a: people.add_person(act=act, **a),
        template="people/add.html",
        then=lambda added: reverse("people:person", args=[added.login]),
        said="{0} can sign in. Now give the authority that goes with the work.",
        context={"why_not": why_not_manage(request)},
    )


def change(request: HttpRequest, login: str) -> HttpResponse:
    """Change a name or a role."""
    this_person = _find(login)
    initial = {"name": this_person.name, "role": this_person.role}
    form = forms.PersonForm(request.POST or None, initial=initial)
    return _write_about(
        request,
        this_person,
        form,
        lambda act, a: people.change_person(act=act, person=this_person, **a),
        said="Changed.",
        title="Change name or role",
    )


def reset_password(request: HttpRequest, login: str) -> HttpResponse:
    """Give somebody a new password."""
    this_person = _find(login)
    return _write_about(
        request,
        this_person,
        forms.ResetForm(request.POST or None),
        lambda act, a: people.reset_password(act=act, person=this_person, **a),
        said="{0} has a new password and no PIN.",
        title="Give a new password",
    )


def stop(request: HttpRequest, login: str) -> HttpResponse:
    """Close an account."""
    this_person = _find(login)
    return _write_about(
        request,
        this_person,
        forms.ConfirmForm(request.POST or None),
        lambda act, _: people.stop_person(act=act, person=this_person),
        said="{0} can't sign in any more. What was signed stays signed.",
        title="Stop signing in",
    )


def readmit(request: HttpRequest, login: str) -> HttpResponse:
    """Open a closed account again."""
    this_person = _find(login)
    return _write_about(
        request,
        this_person,
        forms.ConfirmForm(request.POST or None),
        lambda act, _: people.readmit_person(act=act, person=this_person),
        said="{0} can sign in again.",
        title="Let sign in again",
    )


def grant(request: HttpRequest, login: str) -> HttpResponse:
    """Give an authority."""
    this_person = _find(login)
    return _write_about(
        request,
        this_person,
        forms.GrantForm(request.POST or None),
        lambda act, a: people.grant_authority(act=act, person=this_person, **a),
        said="Given.",
        title="Give authority",
    )


def end(request: HttpRequest, pk: int) -> HttpResponse:
    """End an authority."""
    query = Authority.objects.select_related("person")
    authority = get_object_or_404(query, pk=pk)
    return _write_about(
        request,
        authority.person,
        forms.EndForm(request.POST or None),
        lambda act, a: people.end_authority(act=act, authority=authority, **a),
        said="It ends on its last day.",
        title=f"End the authority to {authority.get_act_display()}",
    )


def why_not_manage(request: HttpRequest) -> str:
    """Say why the person signed in may not manage people; "" where they may."""
    me, today = acts.person(request), timezone.localdate()
    return " ".join(f.sentence for f in may(me, Authority.Act.MANAGE, today))


def _write_about(
    request: HttpRequest,
    this_person: Person,
    form: ShopForm,
    do: Callable[[Act, dict[str, Any]], object],
    *,
    title: str,
    said: str,
) -> HttpResponse:
    return write(
        request,
        form,
        do,
        template="people/about.html",
        then=lambda _: reverse("people:person", args=[this_person.login]),
        said=said,
        context={
            "person": this_person,
            "what": title,
            "why_not": why_not_manage(request),
        },
    )


def _find(login: str) -> Person:
    return get_object_or_404(Person, login=login)


def _facts(person: Person) -> list[Fact]:
    return [
        Fact("Signs in as", person.login),
        Fact("Role", person.get_role_display()),
        Fact("PIN for the bench", "set" if person.pin else "none"),
    ]


def _line(authority: Authority, today: dt.date) -> dict[str, Any]:
    until = f"to {day(authority.until_on)}" if authority.until_on else "until ended"
    return {
        "pk": authority.pk,
        "may": authority.get_act_display(),
        "span": f"from {day(authority.from_on)} {until}",
        "given_by": authority.written_by.name,
        "state": _state(authority, today),
    }


def _state(authority: Authority, today: dt.date) -> Verdict:
    if authority.until_on is not None and authority.until_on < today:
        return Verdict("void", "ended")
    if authority.from_on > today:
        return Verdict("waiting", "to come")
    return Verdict("ok", "in force")


def _actions(person: Person, why_not: str) -> list[Action]:
    named = [("Give authority", "grant"), ("Change name or role", "change")]
    named += [("Give a new password", "reset")]
    named += [("Stop signing in", "stop")] if person.is_active else []
    named += [] if person.is_active else [("Let sign in again", "readmit")]
    return [
        Action(label, reverse(f"people:{name}", args=[person.login]), why_not)
        for label, name in named
    ]
