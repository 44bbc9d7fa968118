"""Strips: where figures lie between their limits, small enough for a table's cell.

Black and white, without lettering: the figures stand beside it. The band is what the
limits allow; a figure beyond the strip's end is an arrow at that end.
"""

import base64
from collections.abc import Iterator, Sequence
from typing import Final

WIDTH: Final = 100.0
HEIGHT: Final = 12.0
SPARE: Final = 0.2  # of the band, on each side of it
MIDDLE: Final = HEIGHT / 2


def limit_strip(figures: Sequence[float], low: float | None, high: float | None) -> str:
    """Draw figures against their limits, for the `src` of an image.

    Parameters
    ----------
    figures : Sequence of float
        What was read, in the limits' unit; the first is filled, the second open, and
        so on in turn.
    low, high : float or None
        The limits. With one of them the band begins or ends at zero.

    Returns
    -------
    str
        An SVG as a data address, or "" where there is nothing to draw against.
    """
    least, most = _band(low, high)
    if not figures or least >= most:
        return ""
    spare = SPARE * (most - least)
    scale = _Scale(least - spare, most + spare)
    marks = "".join(
        mark for n, figure in enumerate(figures) for mark in _mark(scale, figure, n)
    )
    left, right = scale.x(least), scale.x(most)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {HEIGHT:g}" '
        f'width="{WIDTH:g}" height="{HEIGHT:g}">'
        f'<path d="M0 {MIDDLE:g}H{WIDTH:g}" stroke="#999" stroke-width="0.6"/>'
        f'<rect x="{left:.2f}" y="2" width="{right - left:.2f}" height="8" '
        f'fill="#e4e4e4"/>'
        f'<path d="M{left:.2f} 0V{HEIGHT:g}M{right:.2f} 0V{HEIGHT:g}" '
        f'stroke="#000" stroke-width="1"/>{marks}</svg>'
    )
    return f"data:image/svg+xml;base64,{base64.b64encode(svg.encode()).decode()}"


class _Scale:
    """From figures to places on the strip."""

    def __init__(self, low: float, high: float) -> None:
        self.low = low
        self.high = high

    def x(self, figure: float) -> float:
        """Place a figure on the strip."""
        return WIDTH * (figure - self.low) / (self.high - self.low)


def _band(low: float | None, high: float | None) -> tuple[float, float]:
    if low is not None and high is not None:
        return low, high
    if high is not None:
        return min(0.0, high), max(0.0, high)
    return (min(0.0, low), max(0.0, low)) if low is not None else (0.0, 0.0)


def _mark(scale: _Scale, figure: float, turn: int) -> Iterator[str]:
    # The open ones are smaller, so that two in one place are both seen.
    fill, radius = ("#fff", 2) if turn % 2 else ("#000", 4)
    ink = f'fill="{fill}" stroke="#000" stroke-width="1"'
    x = scale.x(figure)
    if x < 0:
        yield f'<path d="M0 {MIDDLE:g}l6 -4v8z" {ink}/>'
    elif x > WIDTH:
        yield f'<path d="M{WIDTH:g} {MIDDLE:g}l-6 -4v8z" {ink}/>'
    else:
        yield f'<circle cx="{x:.2f}" cy="{MIDDLE:g}" r="{radius}" {ink}/>'
