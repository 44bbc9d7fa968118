"""Deviations counted, the most frequent first: by stage, cause, material, gauge."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Count, QuerySet
from django.db.models.functions import Coalesce

from records.models import Deviation, DeviationSubject

_LOTS = (
    "lot",
    "board__lot",
    "lamination__board__lot",
    "mix__resin_lot",
    "coupon__mix__resin_lot",
)
NOT_SAID = "not said"


@dataclass(frozen=True, slots=True)
class Bar:
    """One name with how many deviations have it, and their part of the sum so far."""

    name: str
    count: int
    share_pct: int


def pareto(since: dt.datetime | None = None) -> dict[str, list[Bar]]:
    """Count deviations since a moment, or all, five ways: five queries.

    A deviation about things of several materials counts for each of them.
    """
    deviations = Deviation.objects.order_by()
    subjects = DeviationSubject.objects.order_by()
    if since is not None:
        deviations = deviations.filter(happened_at__gte=since)
        subjects = subjects.filter(deviation__happened_at__gte=since)
    causes = deviations.values_list("cause_kind").annotate(Count("pk"))
    return {
        "Stage": _bars(deviations.values_list("stage__name").annotate(Count("pk"))),
        "Cause": _bars(
            (str(Deviation.Cause(kind).label) if kind else None, count)
            for kind, count in causes
        ),
        "Material": _bars(_by(subjects, [f"{lot}__material__name" for lot in _LOTS])),
        "Supplier": _bars(_by(subjects, [f"{lot}__supplier__name" for lot in _LOTS])),
        "Gauge": _bars(_by(subjects, ["gauge__number", "reading__gauge__number"])),
    }


def _by(
    subjects: QuerySet[DeviationSubject], lookups: list[str]
) -> Iterable[tuple[str | None, int]]:
    named = subjects.annotate(name=Coalesce(*lookups)).filter(name__isnull=False)
    return named.values_list("name").annotate(Count("deviation", distinct=True))


def _bars(rows: Iterable[tuple[str | None, int]]) -> list[Bar]:
    ordered = sorted(rows, key=lambda row: (-row[1], row[0] or ""))
    total, so_far, bars = sum(count for _, count in ordered), 0, []
    for name, count in ordered:
        so_far += count
        bars.append(Bar(name or NOT_SAID, count, round(100 * so_far / total)))
    return bars
