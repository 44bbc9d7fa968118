"""What every page knows: the shop, and the way to everywhere."""

from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse
from django.utils import timezone
from django.utils.functional import SimpleLazyObject

from records.web.shared.units import shop_of


@dataclass(frozen=True, slots=True)
class Place:
    """A page in the menu."""

    label: str
    url: str
    here: bool = False


MENU: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    (
        "Material",
        (
            ("Lots", "lots:lots"),
            ("Boards", "boards:boards"),
            ("Gauges", "gauges:gauges"),
        ),
    ),
    (
        "Work",
        (
            ("Blanks", "builds:blanks"),
            ("Propellers", "builds:propellers"),
            ("Mixes", "gluing:mixes"),
            ("Press loads", "pressing:loads"),
            ("Coupons", "coupons:coupons"),
        ),
    ),
    (
        "Drawings",
        (
            ("Designs", "designs:designs"),
            ("Routes and limits", "routes:routes"),
            ("Presses", "pressing:presses"),
        ),
    ),
    (
        "Answers",
        (
            ("Deviations", "deviations:deviations"),
            ("Readings", "readings:readings"),
            ("Signatures", "signoffs:signoffs"),
            ("Where from, where to", "trace:trace"),
            ("Control charts", "trends:trends"),
            ("Conformity records", "conformity:records"),
            ("Owners", "service:owners"),
            ("Ledger", "ledger:ledger"),
        ),
    ),
    (
        "Shop",
        (
            ("People", "people:people"),
            ("Settings", "shop:shop"),
        ),
    ),
)


def shop(request: HttpRequest) -> dict[str, Any]:
    """Give every template the shop's row and the menu."""
    return {
        "shop": SimpleLazyObject(lambda: shop_of(request)),
        "menu": _menu_at(request.path),
        "time_zone": timezone.get_current_timezone_name(),
        "places": {"today": home(), "scan": find("tags:scan")},
    }


def _menu_at(path: str) -> list[tuple[str, list[Place]]]:
    return [
        (title, [replace(p, here=path.startswith(p.url)) for p in places])
        for title, places in _menu()
    ]


@cache
def _menu() -> list[tuple[str, list[Place]]]:
    return [
        (title, [Place(label, url) for label, name in names if (url := find(name))])
        for title, names in MENU
    ]


def home() -> str:
    """Give the path of the first page: what waits today."""
    return find("today:today") or "/"


@cache
def find(name: str) -> str:
    """Give a page's path, or "" where its area is not built in."""
    try:
        return reverse(name)
    except NoReverseMatch:
        return ""
