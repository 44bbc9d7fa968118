"""Standing holds, and what each reaches: a hold is one row, its reach a query."""

from collections import defaultdict
from collections.abc import Collection, Iterator
from typing import Any

from django.db.models import F, Q, QuerySet

from records.models import Blank, Hold, Propeller
from records.models.subjects import ANY_KINDS
from records.queries.reach import WAYS_TO, Way, follow, joined

Pairs = QuerySet[Any, tuple[int, int]]


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
    pairs = list(_pairs(kind, list(holds.values()), pks))
    if not pairs:
        return {}
    found: defaultdict[int, set[int]] = defaultdict(set)
    for hold, target in pairs[0].union(*pairs[1:]):
        found[target].add(hold)
    return {
        target: [hold for key, hold in holds.items() if key in keys]
        for target, keys in found.items()
    }


def held_blanks() -> QuerySet[Blank]:
    """Give the blanks that a standing hold reaches."""
    return Blank.objects.filter(_held("blank"))


def held_propellers() -> QuerySet[Propeller]:
    """Give the propellers that a standing hold reaches."""
    return Propeller.objects.filter(_held("propeller"))


def _held(kind: str) -> Q:
    condition = Q(pk__in=[])
    for way in WAYS_TO[kind]:
        for rows, end in _ways(Hold.objects.standing(), way):
            condition |= Q(pk__in=rows.values(end))
    return condition


def _pairs(
    kind: str, holds: list[Hold], pks: Collection[int] | None
) -> Iterator[Pairs]:
    """Build the pairs (hold, target), only for the ways that these holds can take."""
    on = {hold.subject_kind for hold in holds}
    rows = Hold.objects.filter(pk__in=[hold.pk for hold in holds])
    for way in WAYS_TO[kind]:
        if way.start in on or "gauge" in on:
            for found, end in _ways(rows, way, pks, gauges="gauge" in on):
                yield found.values_list("pk", end)


def _ways(
    holds: QuerySet[Hold],
    way: Way,
    pks: Collection[int] | None = None,
    *,
    gauges: bool = True,
) -> Iterator[tuple[QuerySet[Hold], str]]:
    """Give holds, and the lookup to the target that they reach, for one way down.

    A hold on a gauge reaches what was measured with it within the hold's span.
    """
    end = joined(way.start, way.lookup)
    yield follow(holds, end, _only(end, pks)), end
    if not gauges or way.start == "gauge":
        return
    read = joined("gauge__readings", end)
    within = _in_span("gauge__readings__happened_at")
    yield follow(holds, read, _only(read, pks), within), read
    if way.start == "load":
        sampled = joined("gauge__press_samples", end)
        within = _in_span("gauge__press_samples__at")
        yield follow(holds, sampled, _only(sampled, pks), within), sampled


def _only(end: str, pks: Collection[int] | None) -> Q:
    return Q() if pks is None else Q(**{f"{end}__in": pks})


def _in_span(moment: str) -> Q:
    begun = Q(readings_from__isnull=True) | Q(**{f"{moment}__gte": F("readings_from")})
    return begun & (
        Q(readings_until__isnull=True) | Q(**{f"{moment}__lte": F("readings_until")})
    )
