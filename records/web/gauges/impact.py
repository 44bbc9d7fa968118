"""What a gauge found out touches: the page to read before a deviation is opened."""

from dataclasses import dataclass
from typing import Any, Final

from records.engineering.gauge_error import Effect
from records.models import Calibration
from records.queries.gauges.impact import Impact, JudgedAgain, impact_of
from records.queries.subjects import called
from records.rules.gauges.deviations import gauge_deviation_may_open
from records.spelling.moments import day, when
from records.spelling.quantities import in_unit
from records.spelling.units import unit_name
from records.spelling.verdicts import Verdict
from records.web.shared.pages import page_of

MOST_LINES: Final = 200
CLASSES: Final = (
    (Effect.WOULD_FAIL, "outside", "Would fail"),
    (Effect.MARGINAL, "undecided", "Marginal"),
    (Effect.UNAFFECTED, "inside", "Unaffected"),
    (None, "no_limit", "Can't be told by arithmetic"),
)


@dataclass(frozen=True, slots=True)
class Doubt:
    """One reading in doubt: of what, as read, and as it would have been."""

    thing: str
    url: str
    what: str
    about: str
    verdict: str
    word: str


def impact_page(calibration: Calibration) -> dict[str, Any]:
    """Gather what a calibration puts in doubt, in a constant number of queries."""
    impact = impact_of(calibration)
    barred = gauge_deviation_may_open(calibration)
    return {
        "gauge": calibration.gauge,
        "calibration": calibration,
        "verdict": _verdict(calibration, impact),
        "span": _span(impact),
        "counts": [
            (label, verdict, impact.count(effect)) for effect, verdict, label in CLASSES
        ],
        "doubts": [_doubt(line) for line in impact.affected[:MOST_LINES]],
        "more": max(0, len(impact.affected) - MOST_LINES),
        "serials": [
            (d.serial, d.state_name, d.owner or "not handed over")
            for d in impact.serials
        ],
        "barred": " ".join(finding.sentence for finding in barred),
    }


def _verdict(calibration: Calibration, impact: Impact) -> Verdict:
    if calibration.found_inside:
        return Verdict("inside", "found inside", "nothing that it read is in doubt")
    count = len(impact.affected)
    return Verdict(
        "outside", "found out", f"{count} reading{'' if count == 1 else 's'} in doubt"
    )


def _span(impact: Impact) -> str:
    start, end = impact.span
    since = f"since {day(start.date())}" if start else "from its first reading"
    return f"{since} until {day(end.date())}" if end else since


def _doubt(line: JudgedAgain) -> Doubt:
    effect = next(c for c in CLASSES if c[0] == line.effect)
    reading = line.reading
    what, about = "Pressure samples", "judged by the worst of them"
    if reading is not None:
        read = f"{reading.entered} {unit_name(reading.unit)}".strip()
        what = f"{reading.characteristic.name}: {read}"
        about = when(reading.happened_at)
        if line.corrected is not None:
            about += f", truly {in_unit(float(line.corrected), line.unit)}"
    name = called(line.thing)
    return Doubt(name, page_of(line.thing), what, about, effect[1], effect[2].lower())
