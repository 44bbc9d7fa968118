"""What stands around readings when they are taken: read once, for many readings."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Model

from records.models import (
    Calibration,
    Characteristic,
    Gauge,
    Limit,
    Reading,
    RouteRevision,
    Shop,
)
from records.queries.builds.progress import Progress, progress_of
from records.queries.gauges.register import standard_uncertainty
from records.queries.provenance.made_of import Provenance
from records.queries.routes.revisions import in_force, limits_of
from records.queries.subjects import kind_of

LATE_AFTER = dt.timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class ReadingContext:
    """A thing with its progress, the limits and the gauges that may be needed."""

    subject: Model
    kind: str
    shop: Shop
    progress: Progress
    limits: list[Limit]
    calibrations: dict[int, list[Calibration]]

    @property
    def provenance(self) -> Provenance:
        """What the thing is made of."""
        return self.progress.provenance

    def limits_at(self, moment: dt.datetime) -> dict[int, Limit]:
        """Give the limit in force of each characteristic at a moment."""
        return in_force(self.limits, moment)

    def calibration(self, gauge: Gauge, day: dt.date) -> Calibration | None:
        """Find the newest calibration of a gauge done on or before a day."""
        rows = self.calibrations.get(gauge.pk, [])
        return next((c for c in rows if c.done_on <= day), None)

    def standing_on(
        self, thing: Model, characteristic: Characteristic
    ) -> list[Reading]:
        """List what was read on a thing at this stage, stale readings left out."""
        key = (characteristic.stage.code, (kind_of(thing), thing.pk))
        stale = {pk for state in self.progress.states for pk in state.stale}
        return [
            r
            for r in self.progress.readings.get(key, [])
            if r.characteristic.code == characteristic.code and r.pk not in stale
        ]

    def take(self, rows: Iterable[Reading], instead: Reading | None = None) -> None:
        """Lay rows just written beside those read before, in place of a corrected."""
        for row in rows:
            stage = row.characteristic.stage.code
            key = (stage, (row.subject_kind, row.subject.pk))
            there = self.progress.readings.setdefault(key, [])
            gone = {row.corrects_id, instead.pk if instead else None}
            there[:] = [r for r in there if r.pk not in gone]
            if row.verdict != Reading.Verdict.WITHDRAWN:
                there.append(row)


def context_for(
    subject: Model,
    characteristics: Iterable[Characteristic],
    gauges: Iterable[Gauge | None] = (),
    route: RouteRevision | None = None,
) -> ReadingContext:
    """Lay out what readings on one thing need, in a constant number of queries."""
    progress = progress_of(subject, route)
    design = progress.provenance.design
    keys = {c.pk for c in characteristics}
    for state in progress.states:
        keys |= {c.pk for c in state.characteristics()}
    return ReadingContext(
        subject=subject,
        kind=kind_of(subject),
        shop=Shop.objects.get(),
        progress=progress,
        limits=limits_of(keys, design.pk if design else None),
        calibrations=calibrations_of([g.pk for g in gauges if g is not None]),
    )


def calibrations_of(gauges: Iterable[int]) -> dict[int, list[Calibration]]:
    """List the calibrations of some gauges, the newest first (one query)."""
    calibrations: defaultdict[int, list[Calibration]] = defaultdict(list)
    rows = Calibration.objects.filter(gauge__in=list(gauges))
    for row in rows.order_by("-done_on", "-pk"):
        calibrations[row.gauge_id].append(row)
    return calibrations


def uncertainty_of(
    gauge: Gauge | None, calibration: Calibration | None
) -> float | None:
    """Give what a gauge adds to a reading [the gauge's unit], None if not known."""
    if gauge is None or calibration is None:
        return None
    return standard_uncertainty(gauge, calibration)


def is_late(reading: Reading) -> bool:
    """Tell whether a reading was written well after it was taken."""
    return reading.written_at - reading.happened_at > LATE_AFTER
