"""What a release is decided on: the whole build, its gauges, open deviations."""

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from django.db.models import Model
from django.utils.timezone import localtime

from records.models import (
    Calibration,
    Deviation,
    DeviationSubject,
    Gauge,
    PressLoad,
    PressSample,
    Propeller,
    Reading,
    Revision,
    ServiceEvent,
)
from records.models.conformity import Release
from records.queries.builds.progress import Progress
from records.queries.readings.context import calibrations_of
from records.queries.subjects import about


@dataclass(frozen=True, slots=True)
class Measured:
    """A day on which a gauge was read on a thing, and its calibration then.

    `reading` is None for the samples of a press load.
    """

    gauge: Gauge
    on: dt.date
    thing: Model
    calibration: Calibration | None
    reading: Reading | None = None


def gauges_read(progress: Progress) -> list[Measured]:
    """List every gauge that a standing reading of a build rests on: three queries."""
    used = [*_by_readings(progress), *_by_samples(progress.provenance.loads)]
    calibrations = calibrations_of({gauge.pk for gauge, *_ in used})
    return [
        Measured(
            gauge=gauge,
            on=on,
            thing=thing,
            calibration=next(
                (c for c in calibrations.get(gauge.pk, []) if c.done_on <= on), None
            ),
            reading=reading,
        )
        for gauge, on, thing, reading in used
    ]


def _by_readings(
    progress: Progress,
) -> Iterator[tuple[Gauge, dt.date, Model, Reading | None]]:
    seen = {r.pk: r for state in progress.states for r in state.current}
    things = {
        (kind, thing.pk): thing
        for kind in ("lot", "board", "lamination", "mix", "load", "coupon")
        for thing in progress.provenance.things(kind)
    }
    things |= {(s.kind, s.subject.pk): s.subject for s in progress.states}
    for reading in seen.values():
        if reading.gauge is not None:
            kind = reading.subject_kind
            thing = things[kind, getattr(reading, f"{kind}_id")]
            yield reading.gauge, _day(reading.happened_at), thing, reading


def _by_samples(
    loads: Iterable[PressLoad],
) -> Iterator[tuple[Gauge, dt.date, Model, Reading | None]]:
    by_key = {load.pk: load for load in loads}
    rows = PressSample.objects.standing().filter(load__in=by_key, gauge__isnull=False)
    measured = {
        (sample.gauge, _day(sample.at), sample.load_id)
        for sample in rows.select_related("gauge").order_by("at", "pk")
        if sample.gauge is not None
    }
    for gauge, day, load in sorted(measured, key=lambda f: (f[1], f[0].number, f[2])):
        yield gauge, day, by_key[load], None


def open_deviations(progress: Progress) -> list[Deviation]:
    """List the open deviations about anything in a build, repairs included."""
    parts = about(progress.provenance.parts())
    touched = DeviationSubject.objects.filter(parts).order_by()
    deviations = Deviation.objects.filter(
        state=Deviation.State.OPEN, pk__in=touched.values("deviation")
    )
    return list(deviations.order_by("number", "pk"))


def came_back(propeller: Propeller) -> ServiceEvent | None:
    """Find when a propeller last came back for work."""
    events = propeller.service_events.filter(kind=ServiceEvent.Kind.RETURNED)
    return events.order_by("-happened_at", "-pk").first()


def work_since(propeller: Propeller, event: ServiceEvent) -> list[ServiceEvent]:
    """List the work recorded since a propeller came back."""
    events = propeller.service_events.filter(
        kind=ServiceEvent.Kind.WORK, written_at__gte=event.written_at
    )
    return list(events.order_by("happened_at", "pk"))


def last_release(propeller: Propeller) -> Release | None:
    """Find the newest release of a propeller."""
    return propeller.releases.order_by("-happened_at", "-pk").first()


def newer_revision(revision: Revision) -> Revision | None:
    """Find the newest revision of a design, if it is newer than this one."""
    newer = Revision.objects.filter(design=revision.design_id, pk__gt=revision.pk)
    return newer.order_by("-pk").first()


def _day(moment: dt.datetime) -> dt.date:
    return localtime(moment).date()
