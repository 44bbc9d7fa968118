"""How material runs: the lookups from a thing to all that was made of it.

Reach is never stored. It is asked of the rows that say what went where, so that
whatever is written about one thing is seen on every child at once.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any, Final, TypeVar

from django.db.models import CharField, Model, Q, QuerySet, Value

from records.models import Gauge, Lamination, Mix, Reading
from records.models.base import STANDING
from records.queries.subjects import MODELS

M = TypeVar("M", bound=Model)
Link = tuple[tuple[str, int], int]
_TAKEN: Final = [v for v in Reading.Verdict if v is not Reading.Verdict.WITHDRAWN]
# What stays in the book but is no longer true of the material.
_STANDING: Final[dict[str, dict[str, object]]] = {
    "laminations": {"state": Lamination.State.GOOD},
    "spreads": {"corrected_by__isnull": True},
    "readings": {"corrected_by__isnull": True, "verdict__in": _TAKEN},
    "press_samples": {"corrected_by__isnull": True},
    "uses": STANDING,
}


def joined(*parts: str) -> str:
    """Join the parts of a lookup, leaving out empty ones."""
    return "__".join(part for part in parts if part)


@dataclass(frozen=True, slots=True)
class Way:
    """A way down from one kind of thing: the lookup, "" for the thing itself."""

    start: str
    lookup: str = ""

    def down(self, step: str) -> "Way":
        """Go one step further down."""
        return Way(self.start, joined(self.lookup, step))


_TO_BOARD = [Way("board"), Way("lot", "boards")]
_TO_LAMINATION = [Way("lamination"), *(w.down("laminations") for w in _TO_BOARD)]
_TO_MIX = [
    Way("mix"),
    Way("coupon", "mix"),
    Way("lot", "mixes_as_resin"),
    Way("lot", "mixes_as_hardener"),
]
_USED = [Way("lot", "uses"), *(w.down("uses") for w in _TO_MIX)]
_TO_BLANK = [
    Way("blank"),
    *(w.down("blank") for w in _TO_LAMINATION),
    *(w.down("spreads__blank") for w in _TO_MIX),
    *(w.down("blank") for w in _USED),
    Way("load", "loaded__blank"),
]
WAYS_TO: Final[dict[str, list[Way]]] = {
    "lot": [Way("lot")],
    "board": _TO_BOARD,
    "lamination": _TO_LAMINATION,
    "mix": _TO_MIX,
    "coupon": [
        Way("coupon"),
        *(w.down("coupons") for w in _TO_MIX if w.start != "coupon"),
    ],
    "load": [Way("load")],
    "blank": _TO_BLANK,
    "propeller": [
        Way("propeller"),
        *(w.down("propellers") for w in _TO_BLANK),
        *(w.down("propeller") for w in _USED),
    ],
    "gauge": [Way("gauge")],
}


def reached(kind: str, pk: int, target: str) -> Q:
    """Build the condition that a `target` was made of, or with, this thing.

    For a gauge: that a reading, or a press sample, was taken with it on the target
    or on anything that the target was made of.
    """
    rows = MODELS[kind]._default_manager.filter(pk=pk)
    condition = Q(pk__in=[])
    for way in WAYS_TO[target]:
        if way.start == kind:
            condition |= Q(pk__in=ends(rows, way.lookup or "pk"))
        elif kind == "gauge":
            condition |= _measured(pk, way)
    return condition


def _measured(gauge: int, way: Way) -> Q:
    rows = Gauge.objects.filter(pk=gauge)
    condition = Q(pk__in=ends(rows, joined("readings", way.start, way.lookup)))
    if way.start == "load":
        sampled = joined("press_samples", way.start, way.lookup)
        condition |= Q(pk__in=ends(rows, sampled))
    return condition


def ends(rows: QuerySet[Any], lookup: str) -> QuerySet[Any, Any]:
    """Follow a lookup from some rows to the keys of what lies at its end."""
    return follow(rows, lookup).values(lookup)


def follow(rows: QuerySet[M], lookup: str, *conditions: Q) -> QuerySet[M]:
    """Keep the rows from which a lookup leads somewhere, by standing rows only.

    All conditions go into one filter, so that they speak of the same joined rows.
    """
    there = Q(**{f"{lookup}__isnull": False}, **standing(lookup))
    return rows.filter(there, *conditions).order_by()


def upward(way: Way) -> str:
    """Turn a way round: the lookup from its end to its start, "pk" for the thing."""
    model, steps = MODELS[way.start], []
    for step in filter(None, way.lookup.split("__")):
        relation: Any = model._meta.get_field(step)
        forward = relation.concrete
        steps.append(
            relation.related_query_name() if forward else relation.remote_field.name
        )
        model = relation.related_model
    return joined(*reversed(steps)) or "pk"


def standing(lookup: str) -> dict[str, object]:
    """Give the conditions that keep only rows still true along a lookup."""
    steps = lookup.split("__")
    conditions: dict[str, object] = {}
    for at, step in enumerate(steps, start=1):
        for condition, value in _STANDING.get(step, {}).items():
            conditions[joined(*steps[:at], condition)] = value
    return conditions


def leads_to(ids: Mapping[str, Collection[int]], target: str) -> set[Link]:
    """Pair each of these things, by kind and key, with every `target` it reached.

    One query for all of them, none where there is nothing to ask.
    """
    asked = [
        _linked(way, ids[way.start])
        for way in WAYS_TO[target]
        if way.lookup and ids.get(way.start)
    ]
    links = {((target, pk), pk) for pk in ids.get(target, ())}
    if asked:
        rows = asked[0].union(*asked[1:])
        links |= {((kind, pk), reached_pk) for kind, pk, reached_pk in rows}
    return links


def _linked(way: Way, pks: Collection[int]) -> QuerySet[Any, Any]:
    rows: QuerySet[Any] = MODELS[way.start]._default_manager.filter(pk__in=pks)
    kind = Value(way.start, output_field=CharField())
    return follow(rows, way.lookup).values_list(kind, "pk", way.lookup)


def mix_is_used(pk: int) -> bool:
    """Tell whether a mix is in any joint, or was put on anything."""
    in_a_joint = Q(spreads__isnull=False, **standing("spreads"))
    used = Q(uses__isnull=False, **standing("uses"))
    return Mix.objects.filter(in_a_joint | used, pk=pk).exists()
