"""What a gauge and its calibration must be like before they are written."""

import datetime as dt
from decimal import Decimal

from records.engineering.calibration import LONGEST_DAYS
from records.engineering.units import convert_difference, dimension
from records.models import Calibration, Gauge
from records.rules.finding import Finding
from records.rules.fitness import calibration_holds
from records.rules.moments import day_has_come
from records.spelling.moments import day
from records.spelling.numbers import plain


def gauge_unit_is_known(unit: str) -> list[Finding]:
    """Say why a gauge can't read in this unit."""
    if not unit:
        return [Finding("State the unit that the gauge shows, such as mm.", "unit")]
    return _unit_findings(unit)


def gauge_has_a_range(
    range_low: Decimal, range_high: Decimal, resolution: Decimal
) -> list[Finding]:
    """Say what is wrong with what a gauge can show."""
    findings = []
    if range_low >= range_high:
        findings.append(
            Finding(f"It reads up to more than {plain(range_low)}.", "range_high")
        )
    if resolution <= 0:
        findings.append(Finding("The step it shows is more than 0.", "resolution"))
    elif range_low < range_high and resolution > range_high - range_low:
        findings.append(
            Finding("The step is larger than all it can show.", "resolution")
        )
    return findings


def interval_is_plausible(days: int) -> list[Finding]:
    """Say why a gauge can't be calibrated at this interval."""
    if 1 <= days <= LONGEST_DAYS:
        return []
    return [
        Finding(f"Enter between 1 and {LONGEST_DAYS} days, ten years.", "interval_days")
    ]


def reason_is_given(reason: str) -> list[Finding]:
    """Ask for a reason."""
    return [] if reason.strip() else [Finding("Say why.", "reason")]


def calibration_days_are_right(
    done_on: dt.date, next_due_on: dt.date, today: dt.date
) -> list[Finding]:
    """Say what is wrong with the days of a calibration."""
    findings = day_has_come(done_on, today, "done_on")
    if next_due_on <= done_on:
        findings.append(
            Finding(
                f"It is due again after it was done on {day(done_on)}.",
                "next_due_on",
            )
        )
    return findings


def errors_have_a_unit(
    gauge: Gauge, unit: str, as_found: Decimal, as_left: Decimal
) -> list[Finding]:
    """Say what is wrong with the errors of a calibration and their unit."""
    if not unit:
        return [Finding("State the unit of the error as found, such as mm.", "unit")]
    if findings := _unit_findings(unit):
        return findings
    if dimension(unit) != dimension(gauge.unit):
        return [
            Finding(
                f"{unit} is a unit of {dimension(unit)}; "
                f"gauge {gauge.number} reads {gauge.unit}.",
                "unit",
            )
        ]
    span = gauge.range_high - gauge.range_low
    return [
        Finding(
            f"{error} {unit} is more than all that gauge {gauge.number} can show. "
            "Enter its error, not its reading.",
            field,
        )
        for field, error in (("as_found_error", as_found), ("as_left_error", as_left))
        if _is_more(abs(error), unit, span, gauge.unit)
    ]


def allowances_are_possible(
    permissible_error: Decimal, expanded_uncertainty: Decimal, coverage_factor: Decimal
) -> list[Finding]:
    """Say which of a calibration's figures can't be."""
    findings = []
    if permissible_error < 0:
        findings.append(
            Finding("The greatest error allowed is not negative.", "permissible_error")
        )
    if expanded_uncertainty < 0:
        findings.append(
            Finding("An uncertainty is not negative.", "expanded_uncertainty")
        )
    if coverage_factor < 1:
        findings.append(
            Finding(
                "The coverage factor k is 1 or more; certificates mostly state 2.",
                "coverage_factor",
            )
        )
    return findings


def gauge_may_be_withdrawn(gauge: Gauge) -> list[Finding]:
    """Say why a gauge can't be withdrawn."""
    if gauge.state == Gauge.State.WITHDRAWN:
        return [Finding(f"Gauge {gauge.number} is withdrawn already.")]
    return []


def gauge_may_return(
    gauge: Gauge, on: dt.date, calibration: Calibration | None
) -> list[Finding]:
    """Say why a gauge can't go back into service on a day."""
    if gauge.state == Gauge.State.IN_SERVICE:
        return [Finding(f"Gauge {gauge.number} is in service already.")]
    findings = calibration_holds(gauge, on, calibration)
    if findings:
        findings.append(Finding("Calibrate it before it goes back into service."))
    return findings


def _unit_findings(unit: str) -> list[Finding]:
    try:
        dimension(unit)
    except ValueError as error:
        text = str(error)
        return [Finding(f"{text[:1].upper()}{text[1:]}.", "unit")]
    return []


def _is_more(error: Decimal, unit: str, span: Decimal, gauge_unit: str) -> bool:
    return convert_difference(error, unit, gauge_unit) > span
