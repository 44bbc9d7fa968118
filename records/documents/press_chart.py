"""The course of a press load as a drawing: pressure over time, limits, dips, heat.

Plain SVG for a page and for paper. Every mark has a class; the attributes beside it
are what it looks like where no style sheet speaks. Nothing is told by colour alone.
"""

import datetime as dt
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from html import escape

from django.utils.timezone import localtime

from records.queries.pressing.history import PressHistory
from records.spelling.moments import when
from records.spelling.quantities import pressure

WIDTH, LEFT, RIGHT = 480.0, 44.0, 14.0
TOP, HEIGHT, GAP, HEAT_HEIGHT, FOOT = 24.0, 210.0, 34.0, 56.0, 40.0
FONT = 14
_MPA = 1e6
_HOUR = 3600.0
_STEPS_H = (0.25, 0.5, 1, 2, 3, 4, 6, 12, 24, 48, 96)
_MOST_TICKS = 5
_NICE = (1.0, 2.0, 2.5, 5.0, 10.0)

Points = Sequence[tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Frame:
    """One panel: which figures lie where on the drawing."""

    top: float
    height: float
    from_s: float
    until_s: float
    low: float
    high: float

    def x(self, seconds: float) -> float:
        """Place a time."""
        share = (seconds - self.from_s) / (self.until_s - self.from_s)
        return LEFT + share * (WIDTH - LEFT - RIGHT)

    def y(self, value: float) -> float:
        """Place a figure."""
        share = (value - self.low) / (self.high - self.low)
        return self.top + (1 - share) * self.height


def press_chart(history: PressHistory) -> str:
    """Draw a load that was sampled; "" where there is nothing to draw."""
    load = history.load
    samples = history.samples
    if not samples:
        return ""
    pressures = [((s.at - load.on_at).total_seconds(), s.glue_line_pa) for s in samples]
    heat = [
        ((s.at - load.on_at).total_seconds(), float(s.temperature_c))
        for s in samples
        if s.temperature_c is not None
    ]
    end = load.off_at or samples[-1].at
    until = max((end - load.on_at).total_seconds(), 60.0)
    high = 1.15 * max(float(load.pressure_high_pa), history.highest_pa or 0.0, 1.0)
    frame = Frame(TOP, HEIGHT, 0.0, until, 0.0, high)
    parts = [
        *_limits(frame, history),
        *_dips(frame, history),
        *_scale(frame, _steps(0, high / _MPA), _MPA, "MPa"),
        *_hours(frame, load.on_at, label=not heat),
        _line(frame, pressures, "chart-pressure", 1.8),
        *(_heat(heat, until, load.on_at) if heat else []),
    ]
    bottom = TOP + HEIGHT + FOOT + (GAP + HEAT_HEIGHT if heat else 0)
    return _svg(bottom, _words(history), parts)


def _svg(height: float, words: tuple[str, str], parts: Iterable[str]) -> str:
    title, described = (escape(text) for text in words)
    return (
        f'<svg class="chart press-chart" viewBox="0 0 {WIDTH:.0f} {height:.0f}" '
        'xmlns="http://www.w3.org/2000/svg" role="img" '
        f'font-size="{FONT}" font-family="inherit" fill="currentColor" stroke="none">'
        f"<title>{title}</title><desc>{described}</desc>{''.join(parts)}</svg>"
    )


def _words(history: PressHistory) -> tuple[str, str]:
    load = history.load
    title = f"Pressure at the glue line in press load {load.number}"
    span = f"from {pressure(history.lowest_pa)} to {pressure(history.highest_pa)}"
    limits = f"{pressure(load.pressure_low_pa)} to {pressure(load.pressure_high_pa)}"
    dips = len([dip for dip in history.dips if dip.matters])
    return title, (
        f"{len(history.samples)} samples since {when(load.on_at)}, {span}; "
        f"the glue asks for {limits}; times below it while it cured: {dips}."
    )


def _limits(frame: Frame, history: PressHistory) -> Iterator[str]:
    load = history.load
    low, high = float(load.pressure_low_pa), float(load.pressure_high_pa)
    left, right = LEFT, WIDTH - RIGHT
    top, bottom = frame.y(max(low, high)), frame.y(min(low, high))
    yield (
        f'<rect class="chart-band" x="{left:.1f}" y="{top:.1f}" '
        f'width="{right - left:.1f}" height="{bottom - top:.1f}" fill-opacity="0.08"/>'
    )
    for value, name, above in ((low, "least", False), (high, "most", True)):
        at = frame.y(value)
        yield (
            f'<path class="chart-limit" d="M{left:.1f} {at:.1f}H{right:.1f}" '
            'fill="none" stroke="currentColor" stroke-dasharray="6 4"/>'
        )
        yield _text(right - 4, at - 4 if above else at + 13, name, "end")


def _dips(frame: Frame, history: PressHistory) -> Iterator[str]:
    """Mark where the pressure was too low while the glue cured, and say how low."""
    for dip in history.dips:
        if not dip.matters:
            continue
        start = frame.x((dip.start - history.load.on_at).total_seconds())
        end = frame.x((dip.end - history.load.on_at).total_seconds())
        width = max(end - start, 2.0)
        yield (
            f'<rect class="chart-dip" x="{start:.1f}" y="{frame.top:.1f}" '
            f'width="{width:.1f}" height="{frame.height:.1f}" fill-opacity="0.16" '
            'stroke="currentColor" stroke-width="1"/>'
        )
        near_end = start > WIDTH / 2
        x = start - 4 if near_end else start + width + 4
        text = f"{dip.lowest_pa / _MPA:.2f} MPa"
        yield _text(x, frame.y(dip.lowest_pa), text, "end" if near_end else "start")


def _heat(heat: Points, until: float, on_at: dt.datetime) -> Iterator[str]:
    values = [celsius for _, celsius in heat]
    low, high = math.floor(min(values)) - 1.0, math.ceil(max(values)) + 1.0
    frame = Frame(TOP + HEIGHT + GAP, HEAT_HEIGHT, 0.0, until, low, high)
    yield from _scale(frame, [low, high], 1.0, "°C")
    yield from _hours(frame, on_at, label=True)
    yield _line(frame, heat, "chart-heat", 1.4)


def _scale(
    frame: Frame, steps: Iterable[float], factor: float, unit: str
) -> Iterator[str]:
    yield _text(0, frame.top - 10, unit, "start")
    for step in steps:
        at = frame.y(step * factor)
        yield (
            f'<path class="chart-grid" d="M{LEFT:.1f} {at:.1f}H{WIDTH - RIGHT:.1f}" '
            'fill="none" stroke="currentColor" stroke-opacity="0.25"/>'
        )
        yield _text(LEFT - 6, at + 5, f"{step:g}", "end")


def _hours(frame: Frame, on_at: dt.datetime, *, label: bool) -> Iterator[str]:
    """Mark round hours of the shop's clock, and the day where one begins."""
    hours = frame.until_s / _HOUR
    step = next((s for s in _STEPS_H if hours / s <= _MOST_TICKS), _STEPS_H[-1])
    bottom, day = frame.top + frame.height, None
    for seconds in _round_times(on_at, step * _HOUR, frame.until_s):
        x = frame.x(seconds)
        yield (
            f'<path class="chart-grid" d="M{x:.1f} {frame.top:.1f}V{bottom:.1f}" '
            'fill="none" stroke="currentColor" stroke-opacity="0.25"/>'
        )
        if label:
            clock = localtime(on_at + dt.timedelta(seconds=seconds))
            yield _text(x, bottom + 17, f"{clock:%H:%M}", "middle")
            if clock.date() != day:
                day = clock.date()
                yield _text(x, bottom + 34, f"{clock.day} {clock:%b}", "middle")


def _round_times(on_at: dt.datetime, step_s: float, until_s: float) -> list[float]:
    """Give the times since pressure on at which the shop's clock is round."""
    local = localtime(on_at)
    since_midnight = local.hour * _HOUR + local.minute * 60 + local.second
    first = -since_midnight % step_s
    return [first + n * step_s for n in range(int((until_s - first) / step_s) + 1)]


def _line(frame: Frame, points: Points, name: str, width: float) -> str:
    placed = [(frame.x(at), frame.y(value)) for at, value in points]
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in _thinned(placed))
    if len(placed) == 1:
        x, y = placed[0]
        return f'<circle class="{name}" cx="{x:.1f}" cy="{y:.1f}" r="3"/>'
    return (
        f'<polyline class="{name}" points="{path}" fill="none" '
        f'stroke="currentColor" stroke-width="{width}" stroke-linejoin="round"/>'
    )


def _thinned(placed: Points) -> Iterator[tuple[float, float]]:
    """Keep the highest and lowest point of each half pixel: no dip is lost."""
    columns: dict[int, list[tuple[float, float]]] = {}
    for x, y in placed:
        columns.setdefault(round(2 * x), []).append((x, y))
    for column in columns.values():
        kept = {
            column.index(min(column, key=_height)),
            column.index(max(column, key=_height)),
            len(column) - 1,
        }
        yield from (column[index] for index in sorted(kept))


def _height(point: tuple[float, float]) -> float:
    return point[1]


def _text(x: float, y: float, text: str, anchor: str) -> str:
    return (
        f'<text class="chart-text" x="{x:.1f}" y="{y:.1f}" '
        f'text-anchor="{anchor}">{escape(text)}</text>'
    )


def _steps(low: float, high: float) -> list[float]:
    """Choose round figures between two, five or so."""
    rough = (high - low) / 5
    power = 10 ** math.floor(math.log10(rough))
    step = next(power * nice for nice in _NICE if power * nice >= rough)
    return [round(low + n * step, 10) for n in range(int((high - low) / step) + 1)]
