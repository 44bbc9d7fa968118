"""What gauges there are, whether each is in date, and how far it can be trusted."""

import datetime as dt
from collections.abc import Collection
from decimal import Decimal

from django.db.models import (
    Case,
    CharField,
    F,
    OuterRef,
    QuerySet,
    Subquery,
    Value,
    When,
)

from records.engineering.calibration import staircase_interval
from records.engineering.uncertainty import (
    Distribution,
    from_expanded,
    from_resolution,
    type_b,
)
from records.engineering.uncertainty_combination import combined
from records.engineering.units import convert_difference
from records.models import (
    Calibration,
    Deviation,
    DeviationSubject,
    Gauge,
    GaugeChange,
    Reading,
)
from records.queries.gauges.spans import Span

WITHDRAWN = "withdrawn"
NEVER = "never calibrated"
OVERDUE = "overdue"
SOON = "due soon"
IN_DATE = "in date"
STATUSES = (IN_DATE, SOON, OVERDUE, NEVER, WITHDRAWN)
SOON_DAYS = 30

NEWEST_FIRST = ("-done_on", "-pk")


def latest_calibration(
    gauge_ids: Collection[int], on: dt.date | None = None
) -> dict[int, Calibration]:
    """Find the latest calibration of each gauge, on or before a day: one query."""
    calibrations = Calibration.objects.filter(gauge__in=gauge_ids)
    if on is not None:
        calibrations = calibrations.filter(done_on__lte=on)
    return {c.gauge_id: c for c in calibrations.order_by("done_on", "pk")}


def standard_uncertainty(gauge: Gauge, calibration: Calibration) -> float:
    """Combine what a gauge adds to a reading [the gauge's unit].

    From the certificate, the smallest step it shows, and the error it was left with,
    which readings are not corrected for: the true value lies anywhere within it.
    """

    def in_gauge_unit(difference: Decimal) -> float:
        unit = calibration.unit
        return float(convert_difference(abs(difference), unit, gauge.unit))

    certificate = from_expanded(
        in_gauge_unit(calibration.expanded_uncertainty),
        float(calibration.coverage_factor),
    )
    step = from_resolution(float(gauge.resolution))
    left = type_b(in_gauge_unit(calibration.as_left_error), Distribution.UNIFORM)
    return combined([certificate, step, left]).standard_uncertainty


def suggested_interval(gauge: Gauge, calibration: Calibration) -> int:
    """Suggest the days until the calibration after the next, from this one."""
    return staircase_interval(
        gauge.interval_days,
        float(calibration.as_found_error),
        float(calibration.permissible_error),
    )


def gauges_listed(on: dt.date) -> QuerySet[Gauge]:
    """List gauges with `due_on` and `status` in words, never calibrated ones first."""
    due = Calibration.objects.filter(gauge=OuterRef("pk"), done_on__lte=on)
    soon = on + dt.timedelta(days=SOON_DAYS)
    status = Case(
        When(state=Gauge.State.WITHDRAWN, then=Value(WITHDRAWN)),
        When(due_on__isnull=True, then=Value(NEVER)),
        When(due_on__lt=on, then=Value(OVERDUE)),
        When(due_on__lte=soon, then=Value(SOON)),
        default=Value(IN_DATE),
        output_field=CharField(),
    )
    newest = due.order_by(*NEWEST_FIRST).values("next_due_on")[:1]
    return (
        Gauge.objects.annotate(due_on=Subquery(newest))
        .annotate(status=status)
        .order_by(F("due_on").asc(nulls_first=True), "number", "pk")
    )


def calibrations_of(gauge: Gauge) -> list[Calibration]:
    """Give a gauge's calibrations, newest first."""
    calibrations = gauge.calibrations.order_by(*NEWEST_FIRST)
    return list(calibrations.select_related("written_by"))


def changes_of(gauge: Gauge) -> list[GaugeChange]:
    """Give when a gauge was withdrawn, returned or had its interval changed."""
    changes = gauge.changes.select_related("written_by")
    return list(changes.order_by("-happened_at", "-pk"))


def readings_with(gauge: Gauge, span: Span) -> int:
    """Count the standing readings taken with a gauge within a span."""
    start, end = span
    readings = Reading.objects.standing().filter(gauge=gauge)
    readings = readings.filter(happened_at__gte=start) if start else readings
    return (readings.filter(happened_at__lte=end) if end else readings).count()


def deviation_after(calibration: Calibration) -> Deviation | None:
    """Find the first deviation about the gauge written since a calibration was."""
    about = DeviationSubject.objects.filter(
        gauge=calibration.gauge_id, written_at__gte=calibration.written_at
    )
    first = about.select_related("deviation").order_by("pk").first()
    return first.deviation if first else None
