"""Differences between blades or points: computed from readings, never typed."""

import dataclasses
from collections.abc import Iterable

from django.db.models import Model

from records.models import Characteristic, Reading, Station
from records.queries.provenance.made_of import Provenance
from records.queries.readings.context import ReadingContext
from records.rules.readings.judging import judge_range
from records.rules.readings.limits import InForce, limit_from
from records.rules.readings.rows import kept_of, stored_limit, subject_field

Per = Characteristic.Per
AGAIN = "computed again"


@dataclasses.dataclass(frozen=True, slots=True)
class Group:
    """The readings that a difference is of, on one thing and at one station."""

    difference: Characteristic
    thing: Model
    station: Station | None
    readings: list[Reading]

    @property
    def place(self) -> dict[str, object]:
        """Where the difference is kept."""
        return {**subject_field(self.thing), "station": self.station}


def ranges_of(
    characteristics: Iterable[Characteristic], codes: set[str]
) -> list[Characteristic]:
    """List the differences that are of some readings, by the readings' codes."""
    return [c for c in characteristics if c.is_range and c.compares in codes]


def groups_of(
    difference: Characteristic,
    context: ReadingContext,
    characteristics: list[Characteristic],
) -> list[Group]:
    """Gather the readings of a difference, where enough of them are taken."""
    compared = next((c for c in characteristics if c.code == difference.compares), None)
    if compared is None:
        return []
    groups = []
    for thing, parts in _things(difference, compared, context):
        readings = [r for part in parts for r in context.standing_on(part, compared)]
        for station in _stations(difference, context.provenance):
            here = [
                r for r in readings if station is None or r.station_id == station.pk
            ]
            if _is_whole(difference, compared, here, parts, context.provenance):
                groups.append(Group(difference, thing, station, here))
    return groups


def row_of(group: Group, context: ReadingContext, *, keep_limit: bool) -> Reading:
    """Judge a difference; it takes the place of the one computed before it.

    `keep_limit` holds it against the limit stored with that one: a correction never
    brings in a new limit.
    """
    moment = max(r.happened_at for r in group.readings)
    before = _before(group, context)
    limit: InForce | None
    if before is not None and keep_limit:
        limit, rule = stored_limit(before), before.rule or context.shop.decision_rule
    else:
        limit = limit_from(
            group.difference, context.limits_at(moment), station=group.station
        )
        rule = context.shop.decision_rule
    shown, judged = judge_range(group.readings, group.difference, limit, rule=rule)
    count = len(group.readings)
    return Reading(
        **group.place,
        **kept_of(judged, limit),
        characteristic=group.difference,
        happened_at=moment,
        entered=f"{shown:f}",
        unit=group.difference.unit,
        flags=f"Computed from {count} readings of {group.readings[0].characteristic}.",
        corrects=before,
        reason=f"{AGAIN} from {count} readings" if before else "",
    )


def without_readings(
    difference: Characteristic, context: ReadingContext, groups: list[Group]
) -> list[Reading]:
    """List the differences that stand although too few of their readings are left."""
    whole = {(g.thing.pk, g.station.pk if g.station else None) for g in groups}
    return [
        row
        for thing in context.provenance.things(difference.on)
        for row in context.standing_on(thing, difference)
        if (thing.pk, row.station_id) not in whole
    ]


def _things(
    difference: Characteristic, compared: Characteristic, context: ReadingContext
) -> list[tuple[Model, list[Model]]]:
    """Pair each thing that keeps a difference with the things it is of."""
    parts = context.provenance.things(compared.on)
    if difference.on == compared.on:
        return [(part, [part]) for part in parts]
    return [(whole, parts) for whole in context.provenance.things(difference.on)]


def _stations(
    difference: Characteristic, provenance: Provenance
) -> list[Station | None]:
    return [*provenance.stations] if difference.per == Per.STATION else [None]


def _is_whole(
    difference: Characteristic,
    compared: Characteristic,
    readings: list[Reading],
    parts: list[Model],
    provenance: Provenance,
) -> bool:
    if difference.computed == Characteristic.Computed.RANGE_OF_BLADES:
        blades = provenance.design.blades if provenance.design else 0
        return blades > 0 and {r.blade for r in readings} >= set(range(1, blades + 1))
    have = {getattr(r, f"{compared.on}_id") for r in readings}
    enough = max(2, compared.at_least if len(parts) == 1 else len(parts))
    return have >= {part.pk for part in parts} and len(readings) >= enough


def _before(group: Group, context: ReadingContext) -> Reading | None:
    station = group.station.pk if group.station else None
    rows = context.standing_on(group.thing, group.difference)
    return next((r for r in reversed(rows) if r.station_id == station), None)
