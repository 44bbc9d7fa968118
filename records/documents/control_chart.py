"""An individuals chart as a drawing: readings in order, control lines, limits.

Plain SVG for a page and for paper. A reading that completes a pattern is a square,
every other one a dot: nothing is told by colour alone.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from html import escape

from records.rules.trends import Trend
from records.spelling.numbers import plain

WIDTH, HEIGHT = 720.0, 300.0
LEFT, RIGHT, TOP, BOTTOM = 12.0, 138.0, 16.0, 16.0
MARGIN, LINE_OF_TEXT = 0.08, 14.0


@dataclass(frozen=True, slots=True)
class Frame:
    """Which figures lie where on the drawing."""

    count: int
    low: float
    high: float

    def x(self, place: int) -> float:
        """Place a reading by its order."""
        share = place / max(self.count - 1, 1)
        return LEFT + share * (WIDTH - LEFT - RIGHT)

    def y(self, value: float) -> float:
        """Place a figure."""
        share = (value - self.low) / (self.high - self.low)
        return TOP + (1 - share) * (HEIGHT - TOP - BOTTOM)


def control_chart(trend: Trend) -> str:
    """Draw a trend."""
    frame = _frame(trend)
    parts = [*_lines(trend, frame), _course(trend, frame), *_marks(trend, frame)]
    title = f"{trend.series.name}, {len(trend.series.points)} readings in order"
    told = (
        f"Centre {_short(trend.chart.centre)}, control lines {_short(trend.chart.low)} "
        f"and {_short(trend.chart.high)} {trend.series.unit}; "
        f"patterns found: {len(trend.signals)}."
    )
    return (
        f'<svg class="chart" viewBox="0 0 {WIDTH:.0f} {HEIGHT:.0f}" '
        'xmlns="http://www.w3.org/2000/svg" role="img" font-size="12" '
        'font-family="inherit" fill="currentColor" stroke="none">'
        f"<title>{escape(title)}</title><desc>{escape(told)}</desc>{''.join(parts)}"
        "</svg>"
    )


def _frame(trend: Trend) -> Frame:
    sides = (trend.series.low, trend.series.high)
    figures = [*trend.series.values, trend.chart.low, trend.chart.high]
    figures += [side for side in sides if side is not None]
    low, high = min(figures), max(figures)
    room = (high - low) * MARGIN or 1.0
    return Frame(len(trend.series.points), low - room, high + room)


def _lines(trend: Trend, frame: Frame) -> Iterator[str]:
    chart, series = trend.chart, trend.series
    lines = [
        (chart.centre, "centre", "", 1),
        (chart.high, "upper control", "6 4", 1),
        (chart.low, "lower control", "6 4", 1),
        (series.high, "most", "2 3", 2),
        (series.low, "least", "2 3", 2),
    ]
    drawn = [(v, name, dash, width) for v, name, dash, width in lines if v is not None]
    below = 0.0
    for value, name, dash, width in sorted(drawn, reverse=True):
        yield _line(frame, value, dash, width)
        below = max(frame.y(value) + 4, below + LINE_OF_TEXT)
        yield _label(below, f"{name} {_short(value)}")


def _line(frame: Frame, value: float, dashes: str, width: int) -> str:
    dash = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<path class="chart-limit" d="M{LEFT:.1f} {frame.y(value):.1f}'
        f'H{WIDTH - RIGHT:.1f}" fill="none" stroke="currentColor" '
        f'stroke-width="{width}" stroke-opacity="0.6"{dash}/>'
    )


def _label(y: float, text: str) -> str:
    return f'<text x="{WIDTH - RIGHT + 6:.1f}" y="{y:.1f}">{escape(text)}</text>'


def _course(trend: Trend, frame: Frame) -> str:
    steps = (
        f"{frame.x(place):.1f} {frame.y(value):.1f}"
        for place, value in enumerate(trend.series.values)
    )
    return (
        f'<path d="M{"L".join(steps)}" fill="none" stroke="currentColor" '
        'stroke-opacity="0.35"/>'
    )


def _marks(trend: Trend, frame: Frame) -> Iterator[str]:
    marked = {signal.position for signal in trend.signals}
    for place, value in enumerate(trend.series.values):
        x, y = frame.x(place), frame.y(value)
        if place in marked:
            yield f'<path d="M{x - 5:.1f} {y - 5:.1f}h10v10h-10z"/>'
        else:
            yield f'<circle cx="{x:.1f}" cy="{y:.1f}" r="2.6"/>'


def _short(value: float) -> str:
    return plain(Decimal(f"{value:.4g}"))
