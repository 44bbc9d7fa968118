"""Station readings of one propeller as a drawing: each blade along its limits.

Where every reading has both limits, the drawing shows how far each lies from the middle
between them: a blade's form would hide it. Plain SVG for a page and for paper; blades
differ by the shape of their marks, so that nothing is told by colour alone.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

from records.models import Reading
from records.spelling.quantities import in_unit
from records.spelling.units import unit_name

WIDTH, HEIGHT = 720.0, 240.0
LEFT, RIGHT, TOP, FOOT = 56.0, 12.0, 18.0, 34.0
_MARKS = ("circle", "square", "diamond", "cross")
_MARGIN = 0.12
_SIZE = 4.0
_MOST_NAMED = 6


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
    return _drawn(points, readings[0].characteristic.name, readings[0].judged_unit)


def _drawn(points: Sequence[Point], name: str, unit: str) -> str:
    limited = all(p.low is not None and p.high is not None for p in points)
    shown = [_from_the_middle(p) for p in points] if limited else list(points)
    frame = _frame(shown)
    scale = f"{unit_name(unit)} from the middle" if limited else unit_name(unit)
    blades = ", ".join(str(blade) for blade in sorted({p.blade for p in points}))
    parts = [*_limits(frame, shown), *_scales(frame, shown), *_blades(frame, shown)]
    return (
        f'<svg class="chart" viewBox="0 0 {WIDTH:.0f} {HEIGHT:.0f}" '
        'xmlns="http://www.w3.org/2000/svg" role="img" font-size="12" '
        'font-family="inherit" fill="currentColor" stroke="none">'
        f"<title>{escape(name)} at each station</title>"
        f"<desc>{len(points)} readings on blades {blades}.</desc>"
        f"{_text(LEFT - 40, TOP - 6, scale, 'start')}{''.join(parts)}</svg>"
    )


def _from_the_middle(point: Point) -> Point:
    """Take off the middle between the limits of a point."""
    low, high = point.low or 0.0, point.high or 0.0
    middle = (low + high) / 2
    return Point(
        point.radius, point.blade, point.value - middle, low - middle, high - middle
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


def _scales(frame: Frame, points: Sequence[Point]) -> Iterator[str]:
    for value in _named(points):
        yield _text(LEFT - 6, frame.y(value) + 4, f"{value:.4g}", "end")
    for radius in sorted({p.radius for p in points}):
        yield _text(frame.x(radius), HEIGHT - 14, in_unit(int(radius), "mm"), "middle")


def _named(points: Sequence[Point]) -> list[float]:
    """Choose the figures to spell: the limits where they are all alike, else ends."""
    limits = {(p.low, p.high) for p in points}
    alike = [v for v in next(iter(limits)) if v is not None] if len(limits) == 1 else []
    values = [p.value for p in points]
    return list(dict.fromkeys([*alike, max(values), min(values)]))


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
        x, y = WIDTH - RIGHT - 76.0 * (_MOST_NAMED - number), TOP - 9
        if blade and number < _MOST_NAMED:
            yield _mark(mark, x, y)
            yield _text(x + 10, y + 4, f"blade {blade}", "start")


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
