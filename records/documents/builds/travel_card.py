"""The travel card: what each stage asks, with blank fields to fill by pen, and the tag.

It goes along with a blank or a propeller and is typed in later. A box is wide enough
for a figure written with a carpenter's pencil.
"""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from records.documents.paper import paper, size_for
from records.documents.pdf import render_pdf
from records.documents.tags.labels import link_for
from records.documents.tags.qr import qr_data_uri
from records.models import (
    Blank,
    Characteristic,
    Limit,
    Propeller,
    Shop,
    Stage,
    Tag,
)
from records.queries.builds.progress import StageState, progress_of
from records.queries.routes.revisions import in_force, limits_of
from records.queries.subjects import WORDS, called, kind_of, number_of
from records.rules.readings.limits import InForce, limit_from
from records.rules.readings.slots import Slot, slots
from records.spelling.moments import day
from records.spelling.numbers import plain
from records.spelling.quantities import both
from records.spelling.units import unit_name

Evidence = Stage.Evidence
YES_NO: Final = ("yes", "no")
PRESS_ROWS: Final = 8
MIX_ROWS: Final = 3


@dataclass(frozen=True, slots=True)
class CardRow:
    """A reading to write down: what, where, its limit, and its boxes."""

    name: str
    place: str
    unit: str
    limit: str
    boxes: tuple[str, ...]
    how: str = ""
    gauge: bool = False


@dataclass(frozen=True, slots=True)
class Grid:
    """An empty table to write in."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class StageCard:
    """One stage on the card."""

    stage: Stage
    number: int
    lines: list[CardRow]
    grid: Grid | None


def draw_travel_card(thing: Blank | Propeller, tag: Tag, moment: dt.datetime) -> bytes:
    """Draw the card of a blank or propeller, by its route and the limits of a moment.

    Parameters
    ----------
    thing : Blank or Propeller
        What the card goes along with.
    tag : Tag
        Its tag.
    moment : datetime
        The limits in force then are printed; it is also the card's time.
    """
    shop = Shop.objects.get()
    progress = progress_of(thing)
    states = progress.of(thing)
    design = progress.provenance.design
    characteristics = [c.pk for s in states for c in s.characteristics()]
    limits = in_force(limits_of(characteristics, design.pk if design else None), moment)
    name = f"{WORDS[kind_of(thing)].capitalize()} {number_of(thing)}"
    link = link_for(shop.base_url, tag.code, number_of(thing))
    context = {
        **paper(
            title=f"Travel card, {called(thing)}",
            shop=shop.name,
            size=size_for(shop.units_first),
            about=f"{name} · limits of {day(moment.date())}",
        ),
        "kind": WORDS[kind_of(thing)].capitalize(),
        "number": number_of(thing),
        "design": design,
        "route": progress.route,
        "picture": qr_data_uri(link),
        "cards": [_card(n, state, limits) for n, state in enumerate(states, start=1)],
        "drawn_on": day(moment.date()),
    }
    return render_pdf("documents/travel_card.html", context, drawn_at=moment)


def _card(number: int, state: StageState, limits: Mapping[int, Limit]) -> StageCard:
    lines = [
        line
        for characteristic in state.characteristics()
        for line in _lines(state, characteristic, limits)
    ]
    return StageCard(state.stage, number, lines, _grid(state))


def _lines(
    state: StageState, characteristic: Characteristic, limits: Mapping[int, Limit]
) -> Iterator[CardRow]:
    by_place: dict[str, list[Slot]] = {}
    for slot in slots(state, characteristic):
        by_place.setdefault(_place(slot), []).append(slot)
    if not by_place:
        by_place[WORDS[characteristic.on]] = []
    for place, group in by_place.items():
        station = group[0].station if group else None
        yield CardRow(
            name=characteristic.name,
            place=place,
            unit=unit_name(characteristic.unit),
            limit=_limit(limit_from(characteristic, limits, station=station)),
            boxes=_boxes(characteristic, group),
            how=characteristic.how,
            gauge=characteristic.gauge_needed,
        )


def _place(slot: Slot) -> str:
    if slot.station is not None:
        return both(slot.station.radius_mm, "mm")
    if slot.characteristic.on in {"load", "coupon", "mix", "lamination"}:
        return called(slot.thing)
    return ""


def _boxes(characteristic: Characteristic, group: Iterable[Slot]) -> tuple[str, ...]:
    """Name the boxes of a line: blades, joints, repeated readings, or yes and no."""
    together = list(group)
    if characteristic.per in {Characteristic.Per.BLADE, Characteristic.Per.STATION}:
        named = tuple(f"blade {s.blade}" for s in together if s.blade is not None)
        if named:
            return named
    if characteristic.per == Characteristic.Per.JOINT:
        return tuple(f"joint {s.joint}" for s in together)
    if characteristic.kind == Characteristic.Kind.YES_NO:
        return YES_NO
    return tuple(
        str(n + 1) if characteristic.at_least > 1 else ""
        for n in range(characteristic.at_least)
    )


def _limit(limit: InForce | None) -> str:
    if limit is None:
        return ""
    low, high = limit.low, limit.high
    if low is not None and high is not None:
        return f"{plain(low)} to {both(high, limit.unit)}"
    if high is not None:
        return f"at most {both(high, limit.unit)}"
    return f"at least {both(low, limit.unit)}"


def _grid(state: StageState) -> Grid | None:
    """Give the table that a stage's other records need."""
    design = state.provenance.design
    count = design.laminations if design else 2
    grids = {
        Evidence.STACK: Grid(
            "Stack, from the bottom",
            ("Place", "Lamination", "Mass, g", "Turned", "End mark"),
            _numbered(range(1, count + 1), 4),
        ),
        Evidence.JOINTS: Grid(
            "Joints, first glue to closed",
            ("Joint", "Mix", "First glue", "Closed", "Both faces", "Glue, g"),
            _numbered(range(1, count), 5),
        ),
        Evidence.PRESS: Grid(
            "Press",
            ("Time", "Gauge", "At the stack, °C", "By"),
            ((("",) * 4),) * PRESS_ROWS,
        ),
        Evidence.COUPON: Grid(
            "Coupons",
            ("Coupon", "Mix", "Age, h", "Wood failure, %", "Load, N", "Area, mm²"),
            ((("",) * 6),) * MIX_ROWS,
        ),
    }
    return grids.get(Evidence(state.stage.evidence))


def _numbered(places: Iterable[int], empty: int) -> tuple[tuple[str, ...], ...]:
    return tuple((str(place), *("",) * empty) for place in places)


def card_facts(thing: Blank | Propeller) -> list[tuple[str, Any]]:
    """Say on a page what a card will hold."""
    states = progress_of(thing).of(thing)
    readings = sum(len(state.characteristics()) for state in states)
    return [("Stages", str(len(states))), ("Readings asked for", str(readings))]
