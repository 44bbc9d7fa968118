"""When a calibration calls for a deviation about its gauge."""

from records.models import Calibration
from records.queries.deviations.register import open_about
from records.rules.finding import Finding
from records.spelling.quantities import in_unit


def gauge_deviation_may_open(calibration: Calibration) -> list[Finding]:
    """Say why a calibration opens no deviation: found good, or opened before."""
    gauge, unit = calibration.gauge, calibration.unit
    findings = []
    if calibration.found_inside:
        findings.append(
            Finding(
                f"Gauge {gauge.number} was found with an error of "
                f"{in_unit(calibration.as_found_error, unit)}; "
                f"{in_unit(calibration.permissible_error, unit)} is allowed. "
                "Nothing that "
                "it read is in doubt."
            )
        )
    findings += [
        Finding(f"Deviation {other.number} about gauge {gauge.number} is open.")
        for other in open_about("gauge", gauge.pk)
    ]
    return findings
