"""Where each thing has its page, and where readings and signatures are taken."""

from typing import Final
from urllib.parse import urlencode

from django.db.models import Model
from django.urls import reverse

from records.models import Stage
from records.queries.subjects import kind_of, number_of
from records.rules.readings.slots import Slot
from records.web.shared.parts import Action

PAGES: Final = {
    "lot": "lots:lot",
    "board": "boards:board",
    "lamination": "boards:lamination",
    "mix": "gluing:mix",
    "load": "pressing:load",
    "blank": "builds:blank",
    "propeller": "builds:propeller",
    "coupon": "coupons:coupon",
    "gauge": "gauges:gauge",
}


def page_of(thing: Model) -> str:
    """Give the path of a thing's page."""
    return reverse(PAGES[kind_of(thing)], args=[number_of(thing)])


def log_page(thing: Model, slot: Slot | None = None) -> str:
    """Give the path where a reading of a thing is logged, at a slot if one is named."""
    if slot is None:
        return reverse("readings:log", args=[kind_of(thing), number_of(thing)])
    place = {
        "stage": slot.characteristic.stage.code,
        "characteristic": slot.characteristic.code,
    }
    path = reverse("readings:log", args=[kind_of(slot.thing), number_of(slot.thing)])
    return f"{path}?{urlencode(place)}"


def sign_page(thing: Model, stage: Stage) -> str:
    """Give the path where a stage of a thing is signed."""
    return reverse("signoffs:sign", args=[kind_of(thing), number_of(thing), stage.code])


def deviation_page(thing: Model) -> str:
    """Give the path where a deviation about a thing is opened."""
    return f"{reverse('deviations:open')}?{_named(thing)}"


def hold_page(thing: Model) -> str:
    """Give the path where a thing is put on hold."""
    return f"{reverse('deviations:hold')}?{_named(thing)}"


def trace_page(thing: Model) -> str:
    """Give the path that shows where a thing went, or what a propeller came of."""
    kind = kind_of(thing)
    name = "serial" if kind == "propeller" else kind
    return reverse(f"trace:{name}", args=[number_of(thing)])


def label_page(thing: Model) -> str:
    """Give the path where the label with a thing's tag is printed."""
    return f"{reverse('tags:labels')}?{_named(thing)}"


def attach_page(thing: Model) -> str:
    """Give the path where a photo or paper is attached to a thing."""
    return reverse("files:attach", args=[kind_of(thing), number_of(thing)])


def usual_actions(thing: Model, disabled_reason: str) -> list[Action]:
    """List what can be done with anything; `disabled_reason` says why not to write."""
    return [
        Action("Print its label", label_page(thing), ""),
        Action("Attach a photo or paper", attach_page(thing), disabled_reason),
        Action("Put it on hold", hold_page(thing), disabled_reason),
        Action("Open a deviation", deviation_page(thing), disabled_reason),
        Action("Where it went", trace_page(thing), ""),
    ]


def _named(thing: Model) -> str:
    return urlencode({"kind": kind_of(thing), "number": number_of(thing)})
