"""Series of readings of one characteristic, oldest first, for control charts."""

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Count, Max

from records.models import Characteristic, Reading
from records.queries.subjects import called
from records.spelling.readings import place_of

NEWEST = 120
"""Most readings in a series: a chart of more says nothing more."""
LEAST = 2


@dataclass(frozen=True, slots=True)
class Point:
    """One reading of a series, in the unit of its limit."""

    reading: Reading
    value: float
    where: str


@dataclass(frozen=True, slots=True)
class Series:
    """Readings of one characteristic of one stage, whatever the route's revision.

    Where the drawing gives the limit, `value` is the difference from the drawing, so
    that stations and designs can stand in one chart. `low` and `high` are the limits
    that the newest reading was judged by, in the same sense.
    """

    stage: str
    name: str
    unit: str
    points: list[Point]
    low: float | None
    high: float | None
    from_drawing: bool
    left_out: int

    @property
    def values(self) -> list[float]:
        """The figures alone, in the order made."""
        return [p.value for p in self.points]


@dataclass(frozen=True, slots=True)
class Read:
    """What has been measured, how often, and when last."""

    stage: str
    code: str
    stage_name: str
    name: str
    readings: int
    newest: dt.datetime
    order: int


def characteristics_read() -> list[Read]:
    """List what has been measured twice or more, in the order of the route."""
    rows = (
        Reading.objects.standing()
        .filter(judged__isnull=False)
        .order_by()
        .values_list("characteristic__stage__code", "characteristic__code")
        .annotate(
            Max("characteristic__stage__name"),
            Max("characteristic__name"),
            Count("pk"),
            Max("happened_at"),
            Max("characteristic__stage__order"),
        )
        .filter(pk__count__gte=LEAST)
    )
    return sorted((Read(*row) for row in rows), key=lambda r: (r.order, r.name))


def series_of(stage: str, code: str) -> Series | None:
    """Gather the newest readings of a characteristic; None where there is none."""
    rows = (
        Reading.objects.standing()
        .with_related()
        .filter(
            characteristic__stage__code=stage,
            characteristic__code=code,
            judged__isnull=False,
        )
        .order_by("-happened_at", "-pk")[:NEWEST]
    )
    readings = list(rows)[::-1]
    if not readings:
        return None
    last = readings[-1]
    kept = [r for r in readings if r.judged_unit == last.judged_unit]
    from_drawing = last.characteristic.nominal != Characteristic.Nominal.NONE
    middle = _middle(last) if from_drawing else Decimal(0)
    return Series(
        stage=last.characteristic.stage.name,
        name=last.characteristic.name,
        unit=last.judged_unit,
        points=[_point(r, from_drawing=from_drawing) for r in kept],
        low=_side(last.low, middle),
        high=_side(last.high, middle),
        from_drawing=from_drawing,
        left_out=len(readings) - len(kept),
    )


def _point(reading: Reading, *, from_drawing: bool) -> Point:
    value = reading.judged or Decimal(0)
    if from_drawing:
        value -= _middle(reading)
    name = f"{called(reading.subject)} {place_of(reading)}".strip()
    return Point(reading, float(value), name)


def _middle(reading: Reading) -> Decimal:
    if reading.low is None or reading.high is None:
        return Decimal(0)
    return (reading.low + reading.high) / 2


def _side(limit: Decimal | None, middle: Decimal) -> float | None:
    return None if limit is None else float(limit - middle)
