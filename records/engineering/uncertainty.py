"""Components of measurement uncertainty, each from one cause.

A `Component` is what one cause adds: the gauge's certificate, its resolution, the
scatter of repeats. All are in the unit of the result; a component found in another
unit is multiplied by its sensitivity first.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from statistics import stdev
from typing import Final, Self

from records.engineering.validity import (
    at_least,
    finite,
    not_negative,
    positive,
)


class Distribution(StrEnum):
    """How a value may lie within known bounds."""

    UNIFORM = "uniform"
    TRIANGULAR = "triangular"
    U_SHAPED = "U-shaped"


_DIVISORS: Final = {
    Distribution.UNIFORM: math.sqrt(3),
    Distribution.TRIANGULAR: math.sqrt(6),
    Distribution.U_SHAPED: math.sqrt(2),
}


@dataclass(frozen=True, slots=True)
class Component:
    """A standard uncertainty and how well it is itself known.

    Attributes
    ----------
    standard_uncertainty : float
        Standard deviation of what is believed of the value [unit of reading]
    degrees_of_freedom : float
        Above 0; infinite when the uncertainty is taken as exact [-]
    """

    standard_uncertainty: float
    degrees_of_freedom: float = math.inf

    def __post_init__(self) -> None:
        """Refuse an uncertainty below 0 and degrees of freedom not above 0."""
        not_negative("standard uncertainty", self.standard_uncertainty, "-")
        if self.degrees_of_freedom != math.inf:
            positive("degrees of freedom", self.degrees_of_freedom, "-")

    def times(self, sensitivity: float) -> Self:
        """Return the component in the unit of the result."""
        factor = abs(finite("sensitivity", sensitivity))
        scaled = self.standard_uncertainty * factor
        return type(self)(scaled, self.degrees_of_freedom)


def type_a(repeats: Sequence[float], *, averaged: int | None = None) -> Component:
    """Evaluate the scatter of repeated readings.

    Parameters
    ----------
    repeats : sequence of float
        At least two readings of one thing [unit of reading]
    averaged : int or None
        How many readings the reported value is the mean of; None for all of
        `repeats`, 1 when repeats were made once and single readings are used [-]

    Returns
    -------
    Component
        Standard uncertainty [unit of reading] and degrees of freedom [-]

    Raises
    ------
    ValueError
        Fewer than two repeats, one that is not finite, or `averaged` below 1.

    References
    ----------
    JCGM 100:2008, 4.2.2 and 4.2.3.

    Examples
    --------
    Definition: the deviation of 1 to 4 is the root of 5/3, that of their mean half:

    >>> type_a([1.0, 2.0, 3.0, 4.0])
    Component(standard_uncertainty=0.6455, degrees_of_freedom=3)
    """
    values = [finite("reading", value) for value in repeats]
    at_least("repeats", values, 2)
    count = len(values) if averaged is None else averaged
    positive("number of readings averaged", count, "-")
    return Component(stdev(values) / math.sqrt(count), len(values) - 1)


def type_b(
    half_width: float,
    distribution: Distribution,
    *,
    degrees_of_freedom: float = math.inf,
) -> Component:
    """Evaluate bounds within which a value is known to lie.

    Parameters
    ----------
    half_width : float
        Half the distance between the bounds [unit of reading]
    distribution : Distribution
        Uniform when nothing more is known, triangular when the middle is likelier,
        U-shaped when the value swings between the bounds [-]
    degrees_of_freedom : float
        How well the bounds are known, above 0 [-]

    Returns
    -------
    Component
        Standard uncertainty [unit of reading] and degrees of freedom [-]

    Raises
    ------
    ValueError
        A half-width below 0, or degrees of freedom not above 0.

    References
    ----------
    JCGM 100:2008, 4.3.7 (uniform), 4.3.9 (triangular) and H.1.3.4 (U-shaped).

    Examples
    --------
    >>> type_b(1.0, Distribution.UNIFORM).standard_uncertainty
    0.57735
    """
    width = not_negative("half-width", half_width, "-")
    return Component(width / _DIVISORS[distribution], degrees_of_freedom)


def from_resolution(resolution: float) -> Component:
    """Evaluate the last digit or division that a gauge shows.

    Parameters
    ----------
    resolution : float
        Smallest step of the indication [unit of reading]

    Returns
    -------
    Component
        Standard uncertainty [unit of reading], known exactly [-]

    Raises
    ------
    ValueError
        A resolution below 0.

    References
    ----------
    JCGM 100:2008, F.2.2.1.

    Examples
    --------
    >>> from_resolution(0.01).standard_uncertainty
    0.002887
    """
    return type_b(not_negative("resolution", resolution, "-") / 2, Distribution.UNIFORM)


def from_expanded(
    uncertainty: float,
    coverage_factor: float,
    *,
    degrees_of_freedom: float = math.inf,
) -> Component:
    """Take the standard uncertainty back out of a certificate's statement.

    Parameters
    ----------
    uncertainty : float
        Expanded uncertainty, as certified [unit of reading]
    coverage_factor : float
        Factor k that the certificate states, above 0 [-]
    degrees_of_freedom : float
        Stated on some certificates, above 0 [-]

    Returns
    -------
    Component
        Standard uncertainty [unit of reading] and degrees of freedom [-]

    Raises
    ------
    ValueError
        An uncertainty below 0, or a factor or degrees of freedom not above 0.

    References
    ----------
    JCGM 100:2008, 4.3.3; its H.1.3.1 certifies 0.075 um with k = 3.

    Examples
    --------
    >>> from_expanded(0.075, 3).standard_uncertainty
    0.025
    """
    stated = not_negative("expanded uncertainty", uncertainty, "-")
    factor = positive("coverage factor", coverage_factor, "-")
    return Component(stated / factor, degrees_of_freedom)
