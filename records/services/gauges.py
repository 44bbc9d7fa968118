"""Keep the gauges: register, calibrate, withdraw, return."""

import datetime as dt
from decimal import Decimal
from typing import Any

from django.utils.timezone import localdate

from records.models import Authority, Calibration, Gauge, GaugeChange
from records.queries.gauges.register import latest_calibration
from records.rules.authority import may
from records.rules.finding import Finding
from records.rules.gauges import calibration as rules
from records.rules.moments import already_happened
from records.rules.numbers import number_can_be_scanned
from records.services.files import Sent, attach, clean
from records.services.ledger import Act, Entry
from records.services.refusal import refuse_if_blocked


def add_gauge(
    *,
    act: Act,
    number: str,
    name: str,
    unit: str,
    range_low: Decimal,
    range_high: Decimal,
    resolution: Decimal,
    interval_days: int,
    maker_serial: str = "",
) -> Gauge:
    """Put a gauge in the register. Needs the authority to change gauges."""
    with Entry(act, "add gauge") as entry:
        entry.subject = number
        refuse_if_blocked(
            [
                *may(act.by, Authority.Act.MANAGE, localdate(act.at)),
                *number_can_be_scanned(number, "number"),
                *rules.gauge_unit_is_known(unit),
                *rules.gauge_has_a_range(range_low, range_high, resolution),
                *rules.interval_is_plausible(interval_days),
            ]
        )
        return entry.add(
            Gauge(
                number=number,
                name=name,
                maker_serial=maker_serial,
                unit=unit,
                range_low=range_low,
                range_high=range_high,
                resolution=resolution,
                interval_days=interval_days,
            )
        )


def calibrate_gauge(
    *,
    act: Act,
    gauge: Gauge,
    done_on: dt.date,
    unit: str,
    as_found_error: Decimal,
    as_left_error: Decimal,
    certificate: str,
    next_due_on: dt.date | None = None,
    coverage_factor: Decimal = Decimal(2),
    photo: Sent | None = None,
    **figures: Any,
) -> Calibration:
    """Write down a calibration as found and as left, all errors in `unit`.

    `figures` are permissible_error, expanded_uncertainty and standard. Without
    `next_due_on` the gauge's own interval is counted. Needs the authority to change
    gauges.
    """
    cleaned = clean(photo) if photo else None
    calibration = Calibration(
        gauge=gauge,
        done_on=done_on,
        as_found_error=as_found_error,
        as_left_error=as_left_error,
        unit=unit,
        coverage_factor=coverage_factor,
        certificate=certificate,
        next_due_on=next_due_on or done_on + dt.timedelta(days=gauge.interval_days),
        **figures,
    )
    with Entry(act, "calibrate gauge") as entry:
        entry.subject = gauge.number
        refuse_if_blocked(_against(calibration, act))
        entry.add(calibration)
        if cleaned:
            attach(entry, gauge, cleaned, caption=certificate, happened_at=act.at)
        return calibration


def _against(calibration: Calibration, act: Act) -> list[Finding]:
    today = localdate(act.at)
    return [
        *may(act.by, Authority.Act.MANAGE, today),
        *rules.calibration_days_are_right(
            calibration.done_on, calibration.next_due_on, today
        ),
        *rules.errors_have_a_unit(
            calibration.gauge,
            calibration.unit,
            calibration.as_found_error,
            calibration.as_left_error,
        ),
        *rules.allowances_are_possible(
            calibration.permissible_error,
            calibration.expanded_uncertainty,
            calibration.coverage_factor,
        ),
    ]


def withdraw_gauge(
    *, act: Act, gauge: Gauge, reason: str, happened_at: dt.datetime
) -> Gauge:
    """Take a gauge out of service. Anybody who sees it dropped may."""
    with Entry(act, "withdraw gauge") as entry:
        entry.subject = gauge.number
        gauge.refresh_from_db()
        refuse_if_blocked(
            [
                *already_happened(happened_at, act.at),
                *rules.reason_is_given(reason),
                *rules.gauge_may_be_withdrawn(gauge),
            ]
        )
        return _change(
            entry,
            gauge,
            GaugeChange(kind=GaugeChange.Kind.WITHDRAWN, reason=reason),
            happened_at,
            state=Gauge.State.WITHDRAWN,
        )


def return_gauge(
    *, act: Act, gauge: Gauge, reason: str, happened_at: dt.datetime
) -> Gauge:
    """Put a gauge back into service. Needs a calibration that holds."""
    today = localdate(act.at)
    with Entry(act, "return gauge") as entry:
        entry.subject = gauge.number
        gauge.refresh_from_db()
        latest = latest_calibration([gauge.pk], today).get(gauge.pk)
        refuse_if_blocked(
            [
                *may(act.by, Authority.Act.MANAGE, today),
                *already_happened(happened_at, act.at),
                *rules.reason_is_given(reason),
                *rules.gauge_may_return(gauge, today, latest),
            ]
        )
        return _change(
            entry,
            gauge,
            GaugeChange(kind=GaugeChange.Kind.RETURNED, reason=reason),
            happened_at,
            state=Gauge.State.IN_SERVICE,
        )


def set_interval(*, act: Act, gauge: Gauge, interval_days: int, reason: str) -> Gauge:
    """Change the days between calibrations; it counts from the next one on."""
    with Entry(act, "set gauge interval") as entry:
        entry.subject = gauge.number
        gauge.refresh_from_db()
        refuse_if_blocked(
            [
                *may(act.by, Authority.Act.MANAGE, localdate(act.at)),
                *rules.reason_is_given(reason),
                *rules.interval_is_plausible(interval_days),
            ]
        )
        change = f"from {gauge.interval_days} to {interval_days} days: {reason}"
        return _change(
            entry,
            gauge,
            GaugeChange(kind=GaugeChange.Kind.INTERVAL, reason=change),
            act.at,
            interval_days=interval_days,
        )


def _change(
    entry: Entry,
    gauge: Gauge,
    change: GaugeChange,
    happened_at: dt.datetime,
    **fields: str | int,
) -> Gauge:
    change.gauge, change.happened_at = gauge, happened_at
    entry.add(change)
    return entry.change(gauge, **fields)
