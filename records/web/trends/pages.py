"""A control chart's page in ready words."""

from decimal import Decimal
from typing import Any

from records.queries.trends import Series
from records.rules.trends import Trend
from records.spelling.moments import when
from records.spelling.quantities import in_unit
from records.web.shared.parts import Fact

SHOWN = 20


def facts_of(trend: Trend) -> list[Fact]:
    """Spell the chart's lines."""
    unit, chart = trend.series.unit, trend.chart
    return [
        Fact("Readings", str(len(trend.series.points))),
        Fact("Centre", _figure(chart.centre, unit)),
        Fact("Control lines", f"{_short(chart.low)} to {_figure(chart.high, unit)}"),
        Fact("Mean moving range", _figure(chart.mean_range, unit)),
        Fact("Capability", trend.capability),
    ]


def readings_of(series: Series) -> list[dict[str, Any]]:
    """List the newest readings, newest first."""
    return [
        {
            "where": point.where,
            "figure": _figure(point.value, series.unit),
            "when": when(point.reading.happened_at),
            "verdict": point.reading.verdict,
        }
        for point in series.points[::-1][:SHOWN]
    ]


def _short(value: float) -> str:
    return f"{value:.4g}"


def _figure(value: float, unit: str) -> str:
    return in_unit(Decimal(f"{value:.4g}"), unit)
