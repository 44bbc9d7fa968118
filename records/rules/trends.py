"""What a series of readings says of the process: its patterns, and its reach."""

from dataclasses import dataclass

from records.engineering.spc_capability import Limits
from records.engineering.spc_charts import IndividualsChart, individuals_chart
from records.engineering.spc_conclusion import assess_capability
from records.engineering.spc_rules import Signal, western_electric
from records.queries.trends import Series
from records.rules.finding import Finding, warning
from records.spelling.moments import when

FEWEST_FOR_A_CHART = 2


@dataclass(frozen=True, slots=True)
class Trend:
    """A series with its chart and what it shows, in sentences."""

    series: Series
    chart: IndividualsChart
    signals: tuple[Signal, ...]
    findings: list[Finding]
    capability: str


def trend_of(series: Series) -> Trend | None:
    """Read a series as an individuals chart; None where one reading is all."""
    values = series.values
    if len(values) < FEWEST_FOR_A_CHART:
        return None
    chart = individuals_chart(values)
    signals: tuple[Signal, ...] = ()
    if chart.sigma > 0:
        signals = western_electric(values, centre=chart.centre, sigma=chart.sigma)
    return Trend(series, chart, signals, _findings(series, signals), _reach(series))


def _findings(series: Series, signals: tuple[Signal, ...]) -> list[Finding]:
    findings = []
    for signal in signals:
        point = series.points[signal.position]
        moment = when(point.reading.happened_at)
        findings.append(warning(f"{point.where}, {moment}: {signal.rule}."))
    return findings


def _reach(series: Series) -> str:
    if series.low is None and series.high is None:
        return "There is no limit, so nothing is said of capability."
    limits = Limits(low=series.low, high=series.high)
    sentence = assess_capability(series.values, limits).sentence
    return f"{sentence[:1].upper()}{sentence[1:]}."
