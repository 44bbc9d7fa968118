"""Since when a gauge is in doubt: the days between two looks at it."""

import datetime as dt

from django.db.models import QuerySet
from django.utils.timezone import localtime, make_aware

from records.models import Calibration, Gauge

Span = tuple[dt.datetime | None, dt.datetime | None]


def span_in_doubt(gauge: Gauge, until: dt.datetime) -> Span:
    """Give the span of readings in doubt when a gauge is found suspect at a moment.

    From the day of its last good calibration, that day included; from its first
    reading if it never had one.
    """
    day = localtime(until).date()
    good = _last_good(gauge.pk, Calibration.objects.filter(done_on__lte=day))
    return (_day_begins(good.done_on) if good else None, until)


def span_before(calibration: Calibration) -> Span:
    """Give the span of readings that a calibration puts in doubt.

    From the day of the good calibration before it until the end of its own day, both
    days included: nobody wrote at what hour it was done.
    """
    earlier = Calibration.objects.filter(done_on__lte=calibration.done_on)
    earlier = earlier.exclude(pk=calibration.pk).exclude(
        done_on=calibration.done_on, pk__gt=calibration.pk
    )
    good = _last_good(calibration.gauge_id, earlier)
    end = _day_begins(calibration.done_on + dt.timedelta(days=1))
    start = _day_begins(good.done_on) if good else None
    return start, end - dt.timedelta(microseconds=1)


def _last_good(gauge: int, among: QuerySet[Calibration]) -> Calibration | None:
    calibrations = among.filter(gauge=gauge).order_by("-done_on", "-pk")
    return next((c for c in calibrations if c.left_inside), None)


def _day_begins(day: dt.date) -> dt.datetime:
    return make_aware(dt.datetime.combine(day, dt.time.min))
