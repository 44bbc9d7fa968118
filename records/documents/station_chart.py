"""Station readings of one propeller as a drawing: each blade along its limits.

Plain SVG for a page and for paper. Blades differ by the shape of their marks as well,
so that nothing is told by colour alone.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

from records.models import Reading
from records.templatetags.quantities import one, unit_name

WIDTH, HEIGHT = 720.0, 240.0
LEFT, RIGHT, TOP, FOOT = 56.0, 12.0, 18.0, 34.0
_MARKS = ("circle", "square", "diamond", "cross")
_MARGIN = 0.12
_SIZE = 4.0


@dataclass(frozen=True, slots=True)
class Point:
    """A reading at a station: where it lies, what it is, and its limits."""

    radius: float
    blade: int
    value: float
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class Frame:
    """Which figures lie where on the drawing."""

    inner: float
    outer: float
    low: float
    high: float

    def x(self, radius: float) -> float:
        """Place a radius."""
        share = (radius - self.inner) / ((self.outer - self.inner) or 1.0)
        return LEFT + (0.04 + 0.92 * share) * (WIDTH - LEFT - RIGHT)

    def y(self, value: float) -> float:
        """Place a figure."""
        share = (value - self.low) / ((self.high - self.low) or 1.0)
        return TOP + (1 - share) * (HEIGHT - TOP - FOOT)


def station_chart(readings: Sequence[Reading]) -> str:
    """Draw the station readings of one characteristic; "" with fewer than two.

    The readings come with their stations and characteristic; those without a station
    or a figure judged are left out.
    """
    points = [
        Point(
            radius=float(r.station.radius_mm),
            blade=r.blade or 0,
            value=float(r.judged),
            low=None if r.low is None else float(r.low),
            high=None if r.high is None else float(r.high),
        )
        for r in readings
        if r.station is not None and r.judged is not None
    ]
    if len(points) < 2:  # noqa: PLR2004
        return ""
    frame = _frame(points)
    asked, unit = readings[0].characteristic, readings[0].judged_unit
    parts = [
        *_limits(frame, points),
        *_scales(frame, points, unit),
        *_blades(frame, points),
    ]
    blades = sorted({point.blade for point in points})
    title = f"{asked.name} at each station"
    described = f"{len(points)} readings on blades {', '.join(map(str, blades))}."
    return (
        f'<svg class="chart" viewBox="0 0 {WIDTH:.0f} {HEIGHT:.0f}" '
        'xmlns="http://www.w3.org/2000/svg" role="img" font-size="12" '
        'font-family="inherit" fill="currentColor" stroke="none">'
        f"<title>{escape(title)}</title><desc>{escape(described)}</desc>"
        f"{''.join(parts)}</svg>"
    )


def _frame(points: Sequence[Point]) -> Frame:
    values = [p.value for p in points]
    values += [limit for p in points for limit in (p.low, p.high) if limit is not None]
    space = _MARGIN * (max(values) - min(values)) or 1.0
    radii = [p.radius for p in points]
    return Frame(min(radii), max(radii), min(values) - space, max(values) + space)


def _limits(frame: Frame, points: Sequence[Point]) -> Iterator[str]:
    """Draw at each station the span that its limits allow."""
    for point in {p.radius: p for p in points}.values():
        x = frame.x(point.radius)
        top = frame.y(point.high if point.high is not None else frame.high)
        bottom = frame.y(point.low if point.low is not None else frame.low)
        yield (
            f'<rect class="chart-band" x="{x - 14:.1f}" y="{top:.1f}" width="28" '
            f'height="{bottom - top:.1f}" fill-opacity="0.12"/>'
        )
        for limit in (point.low, point.high):
            if limit is not None:
                start = f"M{x - 14:.1f} {frame.y(limit):.1f}"
                yield (
                    f'<path class="chart-limit" d="{start}h28" '
                    'stroke="currentColor" stroke-dasharray="4 3"/>'
                )


def _scales(frame: Frame, points: Sequence[Point], unit: str) -> Iterator[str]:
    yield _text(LEFT, TOP - 6, unit_name(unit), "end")
    for value in (max(p.value for p in points), min(p.value for p in points)):
        yield _text(LEFT - 6, frame.y(value) + 4, f"{value:g}", "end")
    for radius in sorted({p.radius for p in points}):
        yield _text(frame.x(radius), HEIGHT - 14, one(int(radius), "mm"), "middle")


def _blades(frame: Frame, points: Sequence[Point]) -> Iterator[str]:
    for number, blade in enumerate(sorted({p.blade for p in points})):
        mark = _MARKS[number % len(_MARKS)]
        own = sorted((p for p in points if p.blade == blade), key=lambda p: p.radius)
        placed = [(frame.x(p.radius), frame.y(p.value)) for p in own]
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in placed)
        yield (
            f'<polyline class="chart-blade" points="{path}" fill="none" '
            'stroke="currentColor" stroke-opacity="0.5"/>'
        )
        yield from (_mark(mark, x, y) for x, y in placed)
        x, y = placed[-1]
        yield _text(x + 10, y + 4, f"blade {blade}" if blade else "", "start")


def _mark(kind: str, x: float, y: float) -> str:
    s = _SIZE
    if kind == "circle":
        return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{s}"/>'
    shape = {
        "square": f"M{x - s:.1f} {y - s:.1f}h{2 * s}v{2 * s}h-{2 * s}Z",
        "diamond": f"M{x:.1f} {y - s:.1f}l{s} {s}l-{s} {s}l-{s} -{s}Z",
        "cross": f"M{x - s:.1f} {y - 1:.1f}h{2 * s}v2h-{2 * s}Z"
        f"M{x - 1:.1f} {y - s:.1f}h2v{2 * s}h-2Z",
    }[kind]
    return f'<path d="{shape}"/>'


def _text(x: float, y: float, text: str, anchor: str) -> str:
    return (
        f'<text class="chart-text" x="{x:.1f}" y="{y:.1f}" '
        f'text-anchor="{anchor}">{escape(text)}</text>'
    )
