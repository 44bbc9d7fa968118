"""Differences between blades or points: computed from readings, never typed."""

import dataclasses
from collections.abc import Iterable

from django.db.models import Model

from records.models import Characteristic, Reading, Station
from records.queries.provenance.makeup import Makeup
from records.queries.readings.context import Bench
from records.rules.readings.judging import judge_spread
from records.rules.readings.limits import InForce, limit_from
from records.rules.readings.rows import kept_of, stored_limit, subject_field

Per = Characteristic.Per
AGAIN = "computed again"


@dataclasses.dataclass(frozen=True, slots=True)
class Group:
    """The readings that a difference is of, on one thing and at one station."""

    spread: Characteristic
    thing: Model
    station: Station | None
    readings: list[Reading]

    @property
    def place(self) -> dict[str, object]:
        """Where the difference is kept."""
        return {**subject_field(self.thing), "station": self.station}


def spreads_of(
    asked: Iterable[Characteristic], codes: set[str]
) -> list[Characteristic]:
    """List the differences that are of some readings, by the readings' codes."""
    return [c for c in asked if c.is_spread and c.compares in codes]


def groups_of(
    spread: Characteristic, bench: Bench, asked: list[Characteristic]
) -> list[Group]:
    """Gather the readings of a difference, where enough of them are taken."""
    compared = next((c for c in asked if c.code == spread.compares), None)
    if compared is None:
        return []
    found = []
    for thing, parts in _things(spread, compared, bench):
        readings = [r for part in parts for r in bench.standing_on(part, compared)]
        for station in _stations(spread, bench.makeup):
            here = [
                r for r in readings if station is None or r.station_id == station.pk
            ]
            if _is_whole(spread, compared, here, parts, bench.makeup):
                found.append(Group(spread, thing, station, here))
    return found


def row_of(group: Group, bench: Bench, *, keep_limit: bool) -> Reading:
    """Judge a difference; it takes the place of the one computed before it.

    `keep_limit` holds it against the limit stored with that one: a correction never
    brings in a new limit.
    """
    moment = max(r.happened_at for r in group.readings)
    before = _before(group, bench)
    limit: InForce | None
    if before is not None and keep_limit:
        limit, rule = stored_limit(before), before.rule or bench.shop.decision_rule
    else:
        limit = limit_from(group.spread, bench.limits_at(moment), station=group.station)
        rule = bench.shop.decision_rule
    shown, judged = judge_spread(group.readings, group.spread, limit, rule=rule)
    count = len(group.readings)
    return Reading(
        **group.place,
        **kept_of(judged, limit),
        characteristic=group.spread,
        happened_at=moment,
        entered=f"{shown:f}",
        unit=group.spread.unit,
        flags=f"Computed from {count} readings of {group.readings[0].characteristic}.",
        corrects=before,
        reason=f"{AGAIN} from {count} readings" if before else "",
    )


def without_readings(
    spread: Characteristic, bench: Bench, groups: list[Group]
) -> list[Reading]:
    """List the differences that stand although too few of their readings are left."""
    whole = {(g.thing.pk, g.station.pk if g.station else None) for g in groups}
    return [
        row
        for thing in bench.makeup.things(spread.on)
        for row in bench.standing_on(thing, spread)
        if (thing.pk, row.station_id) not in whole
    ]


def _things(
    spread: Characteristic, compared: Characteristic, bench: Bench
) -> list[tuple[Model, list[Model]]]:
    """Pair each thing that keeps a difference with the things it is of."""
    parts = bench.makeup.things(compared.on)
    if spread.on == compared.on:
        return [(part, [part]) for part in parts]
    return [(whole, parts) for whole in bench.makeup.things(spread.on)]


def _stations(spread: Characteristic, makeup: Makeup) -> list[Station | None]:
    return [*makeup.stations] if spread.per == Per.STATION else [None]


def _is_whole(
    spread: Characteristic,
    compared: Characteristic,
    readings: list[Reading],
    parts: list[Model],
    makeup: Makeup,
) -> bool:
    if spread.computed == Characteristic.Computed.SPREAD_OF_BLADES:
        blades = makeup.design.blades if makeup.design else 0
        return blades > 0 and {r.blade for r in readings} >= set(range(1, blades + 1))
    have = {getattr(r, f"{compared.on}_id") for r in readings}
    enough = max(2, compared.at_least if len(parts) == 1 else len(parts))
    return have >= {part.pk for part in parts} and len(readings) >= enough


def _before(group: Group, bench: Bench) -> Reading | None:
    station = group.station.pk if group.station else None
    rows = bench.standing_on(group.thing, group.spread)
    return next((r for r in reversed(rows) if r.station_id == station), None)
