"""What a scan opens, signed in or not, and the box to type in what can't be scanned."""

from django.db.models import Model
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode

from records.models import Person, Propeller
from records.queries.subjects import called
from records.queries.tags import (
    Scan,
    propeller_by_serial,
    propellers_with,
    read_scan,
    tag_by_code,
    things_called,
)
from records.web.shared.access import public
from records.web.shared.limits import is_one_too_many, too_many
from records.web.shared.pages import page_of
from records.web.tags.forms import ScanForm, SerialForm
from records.web.tags.public import public_page


@public
def tag(request: HttpRequest, code: str, number: str) -> HttpResponse:
    """Open what a tag is on: its history at work, its public page elsewhere."""
    tag_row = tag_by_code(code)
    if tag_row is not None:
        thing: Model | None = tag_row.subject
    elif is_one_too_many(request):
        return too_many(request)
    else:  # a tag of an earlier address or book: its number still tells
        thing = propeller_by_serial(number.strip("/"))
    if isinstance(request.user, Person):
        return redirect(_work_page(thing) if thing else _box(number))
    if isinstance(thing, Propeller):
        return render(request, "tags/public.html", public_page(thing))
    status = 200 if tag_row else 404
    context = {"known": tag_row is not None, "number": number, "here": request.path}
    return render(request, "tags/stranger.html", context, status=status)


def scan(request: HttpRequest) -> HttpResponse:
    """Find a thing by whatever was scanned or typed into one box."""
    form = ScanForm(request.GET if "q" in request.GET else None)
    context: dict[str, object] = {"form": form}
    if form.is_bound and form.is_valid():
        things = find_things(read_scan(form.cleaned_data["q"]))
        if len(things) == 1:
            return redirect(_work_page(things[0]))
        context["asked"] = form.cleaned_data["q"]
        context["things"] = [(called(t), _work_page(t)) for t in things]
    return render(request, "tags/scan.html", context)


@public
def lookup(request: HttpRequest) -> HttpResponse:
    """Let anybody see the public page of a propeller by its whole serial."""
    form = SerialForm(request.GET if "serial" in request.GET else None)
    context: dict[str, object] = {"form": form}
    if form.is_bound and form.is_valid():
        if is_one_too_many(request):
            return too_many(request)
        serial = form.cleaned_data["serial"]
        propeller = propeller_by_serial(serial)
        if propeller is not None:
            return render(request, "tags/public.html", public_page(propeller))
        context["asked"] = serial
    return render(request, "tags/lookup.html", context)


def find_things(scanned: Scan) -> list[Model]:
    """Find what was scanned: by code, by number, else propellers by a part of it."""
    tag_row = tag_by_code(scanned.code)
    if tag_row is not None:
        return [tag_row.subject]
    return things_called(scanned.number) or list(propellers_with(scanned.number))


def _work_page(thing: Model) -> str:
    if isinstance(thing, Propeller):
        return reverse("trace:serial", args=[thing.serial])
    return page_of(thing)


def _box(number: str) -> str:
    return f"{reverse('tags:scan')}?{urlencode({'q': number})}"
