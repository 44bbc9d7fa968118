"""Which serials were made with these materials, or pressed in these days.

The answer is exact both ways: every serial is either in it, with what brought it in,
or out of it, with what it was made of instead.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db.models import Model, Q
from django.utils.timezone import make_aware

from records.models import PressLoad, Propeller
from records.queries.reach.destinations import Destination, destinations
from records.queries.reach.material import leads_to
from records.queries.subjects import MODELS, called, kind_of, named, number_of

NO_MATERIAL = ("gauge", "propeller")


@dataclass(frozen=True, slots=True)
class Question:
    """Materials, or days of pressing (both included), or both: any one is enough."""

    materials: Sequence[Model] = ()
    pressed_from: dt.date | None = None
    pressed_until: dt.date | None = None

    @property
    def asks_for_days(self) -> bool:
        """Tell whether days of pressing are part of the question."""
        return self.pressed_from is not None or self.pressed_until is not None


@dataclass(frozen=True)
class Answer:
    """Where the serials are that the question names, and all the others.

    `because` gives for each serial in it, by key, what brought it in.
    """

    included: list[Destination]
    excluded: list[Destination]
    because: dict[int, list[str]]


def materials_named(numbers: Iterable[str]) -> tuple[list[Model], list[str]]:
    """Find lots, boards, mixes, loads... by number; and the numbers not found.

    One query a kind, however many numbers.
    """
    asked = [number.strip() for number in numbers if number.strip()]
    materials = named(asked, [kind for kind in MODELS if kind not in NO_MATERIAL])
    known = {number_of(material).upper() for material in materials}
    return materials, [number for number in asked if number.upper() not in known]


def who_is_affected(question: Question) -> Answer:
    """Sort every serial in the book into affected and not: four queries at most."""
    because: defaultdict[int, list[str]] = defaultdict(list)
    ids: defaultdict[str, list[int]] = defaultdict(list)
    names = {(kind_of(m), m.pk): called(m) for m in question.materials}
    for kind, pk in names:
        ids[kind].append(pk)
    for thing, propeller in sorted(leads_to(ids, "propeller")):
        because[propeller].append(names[thing])
    if question.asks_for_days:
        for load, propeller in _pressed_in(question):
            because[propeller].append(f"pressed in load {load}")
    places = destinations(Q())
    return Answer(
        included=[place for place in places if place.pk in because],
        excluded=[place for place in places if place.pk not in because],
        because=dict(because),
    )


def _pressed_in(question: Question) -> list[tuple[str, int]]:
    """Pair loads whose pressure came on in the days asked for with propellers."""
    loads = PressLoad.objects.filter(loaded__blank__propellers__isnull=False)
    if question.pressed_from is not None:
        loads = loads.filter(on_at__gte=_begins(question.pressed_from))
    if question.pressed_until is not None:
        after = question.pressed_until + dt.timedelta(days=1)
        loads = loads.filter(on_at__lt=_begins(after))
    pairs = loads.order_by("on_at", "pk").values_list(
        "number", "loaded__blank__propellers"
    )
    return list(pairs.distinct())


def _begins(day: dt.date) -> dt.datetime:
    return make_aware(dt.datetime.combine(day, dt.time.min))


def serials_like(text: str, most: int) -> list[Propeller]:
    """Find propellers by part of their serial: a worn stamp may show no more."""
    propellers = Propeller.objects.filter(serial__icontains=text.strip())
    return list(propellers.select_related("revision__design").order_by("serial")[:most])
