"""What was written about a thing and all that it was made of: for one or for many."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from django.db.models import Count, Max, Min, Q

from records.models import (
    Attachment,
    Deviation,
    DeviationSubject,
    Gauge,
    PressSample,
    Reading,
    SignOff,
)
from records.models.subjects import MATERIAL_KINDS, AboutMaterial
from records.queries.provenance.made_of import Key, Provenance, each_once
from records.queries.subjects import about

A = TypeVar("A", bound=AboutMaterial)


@dataclass(frozen=True, slots=True)
class Pressed:
    """The samples of a press load, in short: how many, lowest and highest [Pa]."""

    samples: int = 0
    lowest_pa: float | None = None
    highest_pa: float | None = None


@dataclass(frozen=True)
class Written:
    """Everything written about one thing and its parts, in the order of the bench.

    `readings` holds corrected and withdrawn ones too. `pressed` is by press load.
    """

    readings: list[Reading]
    signoffs: list[SignOff]
    touched: list[DeviationSubject]
    attachments: list[Attachment]
    pressed: Mapping[int, Pressed]

    @cached_property
    def deviations(self) -> list[Deviation]:
        """The deviations about any part, each once, oldest first."""
        deviations = each_once(subject.deviation for subject in self.touched)
        return sorted(deviations, key=lambda d: (d.happened_at, d.pk))


def written_about(things: Sequence[Provenance]) -> list[Written]:
    """Gather what was written about some things: five queries, however many."""
    keys = [thing.keys() for thing in things]
    condition = about(_by_kind(set().union(*keys)))
    readings = _by_part(
        Reading.objects.with_related().select_related("corrected_by").filter(condition)
    )
    signoffs = _by_part(
        SignOff.objects.filter(condition)
        .select_related("stage", "written_by", *MATERIAL_KINDS)
        .order_by("happened_at", "pk")
    )
    touched = _by_part(
        DeviationSubject.objects.filter(condition)
        .select_related("deviation", "written_by")
        .prefetch_related("deviation__dispositions")
        .order_by("pk")
    )
    attachments = _by_part(
        Attachment.objects.filter(condition)
        .select_related("file", "written_by")
        .order_by("happened_at", "pk")
    )
    pressed = pressed_in(load.pk for thing in things for load in thing.loads)
    return [
        Written(
            readings=_of(readings, mine, "happened_at"),
            signoffs=_of(signoffs, mine, "happened_at"),
            touched=_of(touched, mine, "written_at"),
            attachments=_of(attachments, mine, "happened_at"),
            pressed=pressed,
        )
        for mine in keys
    ]


def pressed_in(loads: Iterable[int]) -> dict[int, Pressed]:
    """Sum up the standing samples of some press loads (one query)."""
    rows = (
        PressSample.objects.standing()
        .filter(load__in=set(loads))
        .order_by()
        .values_list("load")
        .annotate(Count("pk"), Min("glue_line_pa"), Max("glue_line_pa"))
    )
    return {load: Pressed(*figures) for load, *figures in rows}


def gauges_used(made: Provenance, written: Written) -> list[Gauge]:
    """List the gauges that anything about a thing was read with (one query)."""
    read = {reading.gauge_id for reading in written.readings if reading.gauge_id}
    samples = PressSample.objects.standing().filter(load__in=made.loads)
    gauges = Gauge.objects.filter(
        Q(pk__in=read) | Q(pk__in=samples.order_by().values("gauge"))
    )
    return list(gauges.order_by("number", "pk"))


def _by_kind(keys: Iterable[Key]) -> dict[str, list[int]]:
    keys_by_kind: defaultdict[str, list[int]] = defaultdict(list)
    for kind, pk in keys:
        keys_by_kind[kind].append(pk)
    return keys_by_kind


def _by_part(rows: Iterable[A]) -> dict[Key, list[A]]:
    parts: defaultdict[Key, list[A]] = defaultdict(list)
    for row in rows:
        kind = row.subject_kind
        parts[kind, getattr(row, f"{kind}_id")].append(row)
    return parts


def _of(rows: Mapping[Key, list[A]], keys: Iterable[Key], moment: str) -> list[A]:
    mine = (row for key in keys for row in rows.get(key, ()))
    return sorted(mine, key=lambda row: (getattr(row, moment), row.pk))
