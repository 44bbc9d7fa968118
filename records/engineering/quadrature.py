"""Integrate what is measured at stations, by a stated rule."""

from collections.abc import Callable, Sequence
from enum import StrEnum
from itertools import pairwise
from typing import Final

from records.engineering.validity import at_least, finite, increasing


class Quadrature(StrEnum):
    """What is assumed of the curve between the stations."""

    TRAPEZOID = "trapezoid"
    SIMPSON = "Simpson"


def integrate(
    stations: Sequence[float], ordinates: Sequence[float], rule: Quadrature
) -> float:
    """Integrate ordinates over their stations.

    The trapezoid joins the ordinates by straight lines. Simpson's rule lays a
    parabola through each three stations in turn, equally spaced or not, and so
    needs an odd number of them.

    Parameters
    ----------
    stations : Sequence[float]
        Where the ordinates stand, rising [unit of station].
    ordinates : Sequence[float]
        One value for each station [unit of ordinate].
    rule : Quadrature
        Trapezoid or Simpson [-].

    Returns
    -------
    float
        The integral [unit of station times unit of ordinate].

    Raises
    ------
    ValueError
        If the two lists differ in length, a value is not finite, the stations do
        not rise, or there are too few, or an even number under Simpson's rule.

    References
    ----------
    Newton-Cotes closed formulas of two and three points; the three-point one for
    unequal steps by integrating the Lagrange parabola (derived, not copied).

    Examples
    --------
    The cube from 0 to 2 is 4, by Simpson's rule exactly:

    >>> integrate([0, 1, 2], [0, 1, 8], Quadrature.SIMPSON)
    4.0
    >>> integrate([0, 1, 2], [0, 1, 8], Quadrature.TRAPEZOID)
    5.0
    """
    at_least("stations", stations, 2)
    if len(stations) != len(ordinates):
        raise ValueError(
            f"{len(stations)} stations but {len(ordinates)} ordinates: "
            "give one ordinate for each station"
        )
    increasing("stations", stations, "-")
    values = [finite("ordinate", ordinate) for ordinate in ordinates]
    return _RULES[Quadrature(rule)](stations, values)


def _trapezoid(x: Sequence[float], y: Sequence[float]) -> float:
    return sum(
        (x1 - x0) * (y0 + y1) / 2
        for (x0, x1), (y0, y1) in zip(pairwise(x), pairwise(y), strict=True)
    )


def _simpson(x: Sequence[float], y: Sequence[float]) -> float:
    if len(x) % 2 == 0:
        raise ValueError(
            f"Simpson's rule needs an odd number of stations, {len(x)} given: "
            "add or leave out one, or use the trapezoid"
        )
    return sum(_parabola(x[i : i + 3], y[i : i + 3]) for i in range(0, len(x) - 2, 2))


def _parabola(x: Sequence[float], y: Sequence[float]) -> float:
    """Integrate the parabola through three points."""
    h, k = x[1] - x[0], x[2] - x[1]
    middle = (h + k) ** 2 / (h * k)
    return (h + k) / 6 * ((2 - k / h) * y[0] + middle * y[1] + (2 - h / k) * y[2])


_RULES: Final[dict[Quadrature, Callable[[Sequence[float], Sequence[float]], float]]] = {
    Quadrature.TRAPEZOID: _trapezoid,
    Quadrature.SIMPSON: _simpson,
}
