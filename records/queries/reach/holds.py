"""Standing holds, and what each reaches: a hold is one row, its reach a query."""

from collections import defaultdict
from collections.abc import Collection, Iterator
from typing import Any, Final

from django.db.models import CharField, F, Q, QuerySet, Value

from records.models import Blank, Hold, Propeller
from records.models.subjects import ANY_KINDS
from records.queries.reach.material import WAYS_TO, Way, follow, joined, upward
from records.queries.subjects import MODELS

A_FEW: Final = 200
"""Up to so many things are asked from their own side, more from the holds' side."""
Links = QuerySet[Any, tuple[str, int, int]]
Held = dict[str, set[int]]


def standing_holds() -> QuerySet[Hold]:
    """Give every standing hold with its material and deviation, oldest first."""
    return (
        Hold.objects.standing()
        .select_related("deviation", "written_by", *ANY_KINDS)
        .order_by("happened_at", "pk")
    )


def holds_on(kind: str, pk: int) -> list[Hold]:
    """Find the standing holds that reach one thing: two queries at most."""
    return holds_for(kind, [pk]).get(pk, [])


def holds_for(kind: str, pks: Collection[int] | None) -> dict[int, list[Hold]]:
    """Find the standing holds that reach each of many things: two queries at most.

    `pks` None asks for every thing of the kind that a hold reaches.
    """
    holds = {hold.pk: hold for hold in standing_holds()}
    on: defaultdict[tuple[str, int], set[int]] = defaultdict(set)
    held: defaultdict[str, set[int]] = defaultdict(set)
    for hold in holds.values():
        thing = hold.subject_kind, getattr(hold, f"{hold.subject_kind}_id")
        on[thing].add(hold.pk)
        on["hold", hold.pk].add(hold.pk)
        held[thing[0]].add(thing[1])
    holds_on_target: defaultdict[int, set[int]] = defaultdict(set)
    links = list(_links(kind, held, pks))
    for source, target, key in links[0].union(*links[1:]) if links else ():
        if (source, key) in on:
            holds_on_target[target] |= on[source, key]
    return {
        target: [hold for key, hold in holds.items() if key in keys]
        for target, keys in holds_on_target.items()
    }


def held_blanks() -> QuerySet[Blank]:
    """Give the blanks that a standing hold reaches."""
    return Blank.objects.filter(_held("blank"))


def held_propellers() -> QuerySet[Propeller]:
    """Give the propellers that a standing hold reaches."""
    return Propeller.objects.filter(_held("propeller"))


def _held(kind: str) -> Q:
    condition = Q(pk__in=[])
    standing = Hold.objects.standing()
    for way in WAYS_TO[kind]:
        end = joined(way.start, way.lookup)
        condition |= Q(pk__in=follow(standing, end).values(end))
        for rows, measured in _by_gauge(standing, way):
            condition |= Q(pk__in=rows.values(measured))
    return condition


def _links(kind: str, held: Held, pks: Collection[int] | None) -> Iterator[Links]:
    """Pair kind and key of held things with targets, only for ways they can take."""
    few = pks is not None and len(pks) <= A_FEW
    for way in WAYS_TO[kind]:
        if way.start in held:
            yield _up(kind, way, pks or ()) if few else _down(way, held[way.start], pks)
        if "gauge" in held:
            standing = Hold.objects.standing()
            for rows, end in _by_gauge(standing, way, pks):
                yield rows.values_list(_word("hold"), end, "pk")


def _up(kind: str, way: Way, pks: Collection[int]) -> Links:
    """Start at the targets: a few things are made of few others."""
    up = upward(way)
    rows = follow(MODELS[kind]._default_manager.filter(pk__in=pks), up)
    return rows.values_list(_word(way.start), "pk", up)


def _down(way: Way, held: Collection[int], pks: Collection[int] | None) -> Links:
    """Start at what is held."""
    end = way.lookup or "pk"
    rows = MODELS[way.start]._default_manager.filter(pk__in=held)
    return follow(rows, end, _only(end, pks)).values_list(_word(way.start), end, "pk")


def _by_gauge(
    holds: QuerySet[Hold], way: Way, pks: Collection[int] | None = None
) -> Iterator[tuple[QuerySet[Hold], str]]:
    """Give the holds on gauges, and the lookup to what was measured in their span."""
    if way.start == "gauge":
        return
    end = joined(way.start, way.lookup)
    read = joined("gauge__readings", end)
    during = _in_span("gauge__readings__happened_at")
    yield follow(holds, read, _only(read, pks), during), read
    if way.start == "load":
        sampled = joined("gauge__press_samples", end)
        during = _in_span("gauge__press_samples__at")
        yield follow(holds, sampled, _only(sampled, pks), during), sampled


def _only(end: str, pks: Collection[int] | None) -> Q:
    return Q() if pks is None else Q(**{f"{end}__in": pks})


def _word(kind: str) -> Value:
    return Value(kind, output_field=CharField())


def _in_span(moment: str) -> Q:
    begun = Q(readings_from__isnull=True) | Q(**{f"{moment}__gte": F("readings_from")})
    return begun & (
        Q(readings_until__isnull=True) | Q(**{f"{moment}__lte": F("readings_until")})
    )
