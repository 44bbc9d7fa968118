"""What belongs to oneself, and to this device: password, PIN, bench devices."""

from typing import Any

from django.contrib.auth import update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone

from records.models import Authority, Person
from records.models.people import BenchDevice
from records.queries.people import bench_devices
from records.rules.authority import may
from records.services.ledger import Act
from records.services.people import accounts as people
from records.web.people import forms
from records.web.shared import acts
from records.web.shared.access import roles
from records.web.shared.bench import device_of, put_cookie
from records.web.shared.writing import write


@roles(*Person.Role.values)
def own_password(request: HttpRequest) -> HttpResponse:
    """Change one's own password; every other place is signed out by it."""

    def change(act: Act, answers: dict[str, Any]) -> Person:
        me = people.change_password(act=act, **answers)
        update_session_auth_hash(request, me)
        return me

    return write(
        request,
        forms.PasswordForm(request.POST or None),
        change,
        template="people/about.html",
        then=_my_page,
        said="Your password is changed. Other devices are signed out.",
        context={"person": request.user, "what": "Change my password"},
    )


def own_pin(request: HttpRequest) -> HttpResponse:
    """Choose one's own PIN."""
    return write(
        request,
        forms.PinForm(request.POST or None),
        lambda act, a: people.set_pin(act=act, **a),
        template="people/about.html",
        then=_my_page,
        said="Your PIN is set. It counts on the shop's bench devices.",
        context={"person": request.user, "what": "Set my PIN"},
    )


def devices(request: HttpRequest) -> HttpResponse:
    """Show the bench devices, and make this one such."""
    tokens: list[str] = []

    def enrol(act: Act, answers: dict[str, Any]) -> BenchDevice:
        device, token = people.enrol_device(act=act, **answers)
        tokens.append(token)
        return device

    response = write(
        request,
        forms.DeviceForm(request.POST or None),
        enrol,
        template="people/devices.html",
        then=lambda _: reverse("people:devices"),
        said="PINs count here now. This device is known as {0}.",
        context={
            "devices": bench_devices(),
            "here": device_of(request),
            "why_not": _why_not(request),
        },
    )
    for token in tokens:
        put_cookie(response, token)
    return response


def end_device(request: HttpRequest, pk: int) -> HttpResponse:
    """Let no PIN count on a device any more."""
    device = get_object_or_404(bench_devices(), pk=pk)
    return write(
        request,
        forms.ConfirmForm(request.POST or None),
        lambda act, _: people.end_device(act=act, device=device),
        template="people/end_device.html",
        then=lambda _: reverse("people:devices"),
        said="No PIN counts on {0} any more.",
        context={"device": device, "why_not": _why_not(request)},
    )


def _my_page(me: Person) -> str:
    return reverse("people:person", args=[me.login])


def _why_not(request: HttpRequest) -> str:
    me, today = acts.person(request), timezone.localdate()
    return " ".join(f.sentence for f in may(me, Authority.Act.MANAGE, today))
