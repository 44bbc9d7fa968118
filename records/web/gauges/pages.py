"""What a gauge's page shows: is it fit to read with, and what comes next."""

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from django.urls import reverse
from django.utils import timezone

from records.models import Calibration, Deviation, Gauge
from records.queries.files import attached_to
from records.queries.gauges.register import (
    SOON_DAYS,
    calibrations_of,
    changes_of,
    deviation_after,
    readings_with,
    standard_uncertainty,
    suggested_interval,
)
from records.queries.gauges.spans import span_before
from records.rules.finding import Finding, warning
from records.rules.fitness import gauge_fit
from records.rules.holds import held
from records.spelling.moments import day, when
from records.spelling.numbers import NOTHING
from records.spelling.quantities import in_unit
from records.spelling.verdicts import Verdict
from records.web.shared.evidence import photo_lines
from records.web.shared.pages import usual_actions
from records.web.shared.parts import Action, Fact

DisabledReason = Mapping[str, str]


def gauge_page(
    gauge: Gauge, today: dt.date, disabled_reason: DisabledReason
) -> dict[str, Any]:
    """Gather the page of a gauge.

    `disabled_reason` says why not to "manage" or to "write".
    """
    calibrations = calibrations_of(gauge)
    latest = calibrations[0] if calibrations else None
    findings, holds = gauge_fit(gauge, today, latest), held(gauge)
    doubt = latest if latest and not latest.found_inside else None
    opened = deviation_after(doubt) if doubt else None
    questioned = _in_question(gauge, doubt, opened) if doubt else []
    return {
        "gauge": gauge,
        "verdict": (
            Verdict("hold") if holds else _verdict(gauge, today, latest, findings)
        ),
        "findings": [*holds, *findings, *questioned],
        "impact": doubt.pk if doubt and opened else None,
        "step": _next(gauge, disabled_reason, doubt if not opened else None),
        "facts": _facts(gauge, latest),
        "suggestion": _suggestion(gauge, latest),
        "calibrations": [_line(calibration) for calibration in calibrations],
        "changes": changes_of(gauge),
        "photos": photo_lines(attached_to("gauge", gauge.pk)),
        "actions": _actions(gauge, disabled_reason),
    }


def _verdict(
    gauge: Gauge,
    today: dt.date,
    latest: Calibration | None,
    against: Sequence[Finding],
) -> Verdict:
    if gauge.state == Gauge.State.WITHDRAWN:
        return Verdict("void", "withdrawn", "")
    if against or latest is None:
        return Verdict("outside", "not fit to read with", "")
    due = f"until {day(latest.next_due_on)}"
    if latest.next_due_on <= today + dt.timedelta(days=SOON_DAYS):
        return Verdict("waiting", "due soon", due)
    return Verdict("ok", "in date", due)


def _in_question(
    gauge: Gauge, latest: Calibration, opened: Deviation | None
) -> list[Finding]:
    """Warn that the gauge was found out: what was read since is in question."""
    span = span_before(latest)
    since_then = f" Deviation {opened.number} is about it." if opened else ""
    since = f"since {day(timezone.localdate(span[0]))}" if span[0] else "ever taken"
    return [
        warning(
            f"On {day(latest.done_on)} it was found out by "
            f"{in_unit(latest.as_found_error, latest.unit)}; "
            f"{in_unit(latest.permissible_error, latest.unit)} is allowed. "
            f"Readings {since} are in question: {readings_with(gauge, span)}."
            f"{since_then}"
        )
    ]


def _next(
    gauge: Gauge, disabled_reason: DisabledReason, doubt: Calibration | None
) -> Action:
    if doubt is not None:
        page = reverse("gauges:impact", args=[doubt.pk])
        return Action("See what it touched", page)
    calibrate = reverse("gauges:calibrate", args=[gauge.number])
    return Action("Write down a calibration", calibrate, disabled_reason["manage"])


def _facts(gauge: Gauge, latest: Calibration | None) -> list[Fact]:
    unit = gauge.unit
    uncertainty = standard_uncertainty(gauge, latest) if latest else None
    return [
        Fact("What it is", gauge.name),
        Fact("Maker and serial", gauge.maker_serial or NOTHING),
        Fact(
            "Reads",
            f"{in_unit(gauge.range_low, unit)} to {in_unit(gauge.range_high, unit)}",
        ),
        Fact("Smallest step", in_unit(gauge.resolution, unit)),
        Fact("Days between calibrations", str(gauge.interval_days)),
        Fact("Due again on", day(latest.next_due_on) if latest else "never calibrated"),
        Fact(
            "Standard uncertainty it adds",
            NOTHING if uncertainty is None else f"{_short(uncertainty)} {unit}",
        ),
        Fact("In the register since", when(gauge.written_at)),
    ]


def _short(value: float) -> str:
    """Spell an uncertainty with two digits, as certificates do."""
    return f"{float(f'{value:.2g}'):.10f}".rstrip("0").rstrip(".") or "0"


def _suggestion(gauge: Gauge, latest: Calibration | None) -> str:
    if latest is None:
        return ""
    days = suggested_interval(gauge, latest)
    if days == gauge.interval_days:
        return ""
    change = "longer" if days > gauge.interval_days else "shorter"
    return (
        f"By how it was found, {days} days between calibrations are suggested, "
        f"{change} than {gauge.interval_days}."
    )


def _line(calibration: Calibration) -> dict[str, str]:
    unit = calibration.unit
    return {
        "done_on": day(calibration.done_on),
        "found": in_unit(calibration.as_found_error, unit),
        "found_verdict": "inside" if calibration.found_inside else "outside",
        "left": in_unit(calibration.as_left_error, unit),
        "left_verdict": "inside" if calibration.left_inside else "outside",
        "allowed": in_unit(calibration.permissible_error, unit),
        "uncertainty": f"{in_unit(calibration.expanded_uncertainty, unit)}, "
        f"k = {in_unit(calibration.coverage_factor, '1')}",
        "certificate": calibration.certificate,
        "standard": calibration.standard,
        "due": day(calibration.next_due_on),
        "by": calibration.written_by.name,
    }


def _actions(gauge: Gauge, disabled_reason: DisabledReason) -> list[Action]:
    args = [gauge.number]
    write, manage = disabled_reason["write"], disabled_reason["manage"]
    in_service = gauge.state == Gauge.State.IN_SERVICE
    turn = (
        Action("Withdraw from service", reverse("gauges:withdraw", args=args), write)
        if in_service
        else Action("Return to service", reverse("gauges:return", args=args), manage)
    )
    calibrate = reverse("gauges:calibrate", args=args)
    return [
        Action("Write down a calibration", calibrate, manage),
        turn,
        Action("Change the interval", reverse("gauges:interval", args=args), manage),
        *usual_actions(gauge, write),
    ]
