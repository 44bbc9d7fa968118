"""What boards there are, what was seen on each, and what was sawn of it."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Count, Q, QuerySet

from records.engineering.units import convert, parse_number
from records.models import Board, BoardCheck, Characteristic, Lamination, Reading


@dataclass(frozen=True, slots=True)
class Range:
    """How far the points of one characteristic lie apart, in its own unit."""

    name: str
    unit: str
    points: int
    lowest: Decimal
    highest: Decimal

    @property
    def difference(self) -> Decimal:
        """Give the highest less the lowest."""
        return self.highest - self.lowest


def boards_listed() -> QuerySet[Board]:
    """List boards with lot and species, newest first, their laminations counted."""
    good = Q(laminations__state=Lamination.State.GOOD)
    return (
        Board.objects.with_related()
        .annotate(sawn=Count("laminations", good))
        .order_by("-pk")
    )


def checks_of(board: Board) -> list[BoardCheck]:
    """Give a board's inspections with their defects, newest first: two queries."""
    checks = board.checks.select_related("written_by").prefetch_related("defects")
    return list(checks.order_by("-happened_at", "-pk"))


def laminations_of(board: Board) -> list[Lamination]:
    """Give the laminations sawn of a board, void ones too, in the order sawn."""
    laminations = board.laminations.select_related("blank", "written_by")
    return list(laminations.order_by("pk"))


def standing_readings(kind: str, pk: int) -> list[Reading]:
    """Give the readings that stand on a thing, oldest first: one query."""
    return list(Reading.objects.standing().with_related().filter(**{kind: pk}))


def newest_at_each_point(readings: Sequence[Reading]) -> list[Reading]:
    """Keep, of readings of one thing, the last of each characteristic and point."""
    newest = {
        (r.characteristic.code, r.blade, r.station_id, r.joint, r.point): r
        for r in readings
    }
    return sorted(newest.values(), key=lambda r: (r.happened_at, r.pk))


def ranges(readings: Sequence[Reading]) -> list[Range]:
    """Say how far measured points lie apart, where there are several."""
    by_name: dict[str, list[Reading]] = {}
    for reading in newest_at_each_point(readings):
        if reading.characteristic.kind == Characteristic.Kind.MEASURED:
            by_name.setdefault(reading.characteristic.code, []).append(reading)
    return [_range(several) for several in by_name.values() if len(several) > 1]


def _range(readings: Sequence[Reading]) -> Range:
    characteristic = readings[0].characteristic
    unit = characteristic.unit
    values = [convert(parse_number(r.entered), r.unit, unit) for r in readings]
    return Range(characteristic.name, unit, len(values), min(values), max(values))
