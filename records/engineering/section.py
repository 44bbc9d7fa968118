"""Thickness and area of a blade section from its template's ordinates.

Ordinates stand in percent of the chord above a datum, as tables print them.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from records.engineering.quadrature import Quadrature, integrate
from records.engineering.validity import (
    at_least,
    finite,
    increasing,
    positive,
    within,
)


@dataclass(frozen=True, slots=True)
class Ordinates:
    """A section as its table prints it.

    Attributes
    ----------
    stations_pct : tuple[float, ...]
        Distance from the leading edge, rising [% of chord].
    upper_pct : tuple[float, ...]
        Cambered side above the datum, by station [% of chord].
    lower_pct : tuple[float, ...]
        Flat side above the datum, by station [% of chord].
    """

    stations_pct: tuple[float, ...]
    upper_pct: tuple[float, ...]
    lower_pct: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A section at the size it is carved.

    Attributes
    ----------
    stations_mm : tuple[float, ...]
        Distance from the leading edge [mm].
    thickness_mm : tuple[float, ...]
        Thickness at each station [mm].
    largest_thickness_mm : float
        Largest of these: no curve is drawn between stations [mm].
    largest_at_mm : float
        First station where that thickness stands [mm].
    area_mm2 : float
        Area between the outermost stations [mm2].
    rule : Quadrature
        Rule by which the area was integrated [-].
    """

    stations_mm: tuple[float, ...]
    thickness_mm: tuple[float, ...]
    largest_thickness_mm: float
    largest_at_mm: float
    area_mm2: float
    rule: Quadrature


def ordinates(
    stations_pct: Sequence[float],
    upper_pct: Sequence[float],
    lower_pct: Sequence[float],
) -> Ordinates:
    """Check a table of ordinates and keep it.

    Parameters
    ----------
    stations_pct : Sequence[float]
        Distance from the leading edge, rising within 0 to 100 [% of chord].
    upper_pct : Sequence[float]
        Cambered side above the datum, by station [% of chord].
    lower_pct : Sequence[float]
        Flat side above the datum, by station [% of chord].

    Returns
    -------
    Ordinates
        The table [% of chord].

    Raises
    ------
    ValueError
        If there are fewer than two stations, the lists differ in length, stations
        do not rise within 0 to 100 %, a value is not finite, the sides cross, or
        the section has no thickness anywhere.

    References
    ----------
    Layout of the tables of NACA TR 244 (1926), from memory.

    Examples
    --------
    >>> ordinates([0, 30, 100], [3.5, 11.7, 0.12], [3.5, 0, 0]).upper_pct
    (3.5, 11.7, 0.12)
    """
    at_least("ordinate stations", stations_pct, 2)
    increasing("ordinate stations", stations_pct, "%")
    for station in stations_pct:
        within("ordinate station", station, 0, 100, "%")
    if not len(stations_pct) == len(upper_pct) == len(lower_pct):
        raise ValueError(
            f"{len(stations_pct)} stations, {len(upper_pct)} upper and "
            f"{len(lower_pct)} lower ordinates: give one of each for each station"
        )
    table = Ordinates(*map(_numbers, (stations_pct, upper_pct, lower_pct)))
    _refuse_crossed_sides(table)
    return table


def thickness_ratio(table: Ordinates) -> float:
    """Return the largest thickness that a table prints, over the chord.

    Parameters
    ----------
    table : Ordinates
        The section's ordinates [% of chord].

    Returns
    -------
    float
        Largest thickness over chord, at the table's stations [-].

    References
    ----------
    Clark Y: 11.7 % at 30 % of the chord, classical table from memory, confirmed
    within 0.03 % of chord by the UIUC Airfoil Coordinates Database.

    Examples
    --------
    >>> thickness_ratio(ordinates([0, 30, 100], [3.5, 11.7, 0.12], [3.5, 0, 0]))
    0.117
    """
    return max(_thickness_pct(table)) / 100


def carved_section(
    table: Ordinates,
    chord_mm: float,
    rule: Quadrature,
    *,
    design_ratio: float | None = None,
) -> Section:
    """Scale a table to a chord and, where asked, to a thickness ratio.

    A thickness ratio other than the table's stretches all ordinates alike, so
    that a flat face stays flat.

    Parameters
    ----------
    table : Ordinates
        The section's ordinates [% of chord].
    chord_mm : float
        Chord at the station [mm].
    rule : Quadrature
        Rule for the area [-].
    design_ratio : float or None
        Design thickness over chord, above 0; None keeps the table's [-].

    Returns
    -------
    Section
        Thickness by station [mm], largest thickness [mm] and area [mm2].

    Raises
    ------
    ValueError
        If the chord or the ratio is not above zero, the ratio is above 1, or the
        number of stations does not suit Simpson's rule.

    References
    ----------
    t = (t % / 100) c (ratio / table's ratio), the affine scaling by which one
    table serves a family of sections (common practice, no source).

    Examples
    --------
    Clark Y thickness at 30 % of a 150 mm chord, drawn at 10 % instead of 11.7 %:

    >>> table = ordinates([0, 30, 100], [3.5, 11.7, 0.12], [3.5, 0, 0.12])
    >>> carved_section(
    ...     table, 150, Quadrature.SIMPSON, design_ratio=0.10
    ... ).largest_thickness_mm
    15.0
    """
    chord = positive("chord", chord_mm, "mm")
    scale = chord / 100
    stations = tuple(station * scale for station in table.stations_pct)
    stretch = scale * _stretch(table, design_ratio)
    thickness = tuple(pct * stretch for pct in _thickness_pct(table))
    largest = max(thickness)
    return Section(
        stations_mm=stations,
        thickness_mm=thickness,
        largest_thickness_mm=largest,
        largest_at_mm=stations[thickness.index(largest)],
        area_mm2=integrate(stations, thickness, rule),
        rule=rule,
    )


def _stretch(table: Ordinates, design_ratio: float | None) -> float:
    if design_ratio is None:
        return 1.0
    ratio = positive("thickness ratio", design_ratio, "-")
    return within("thickness ratio", ratio, 0, 1, "-") / thickness_ratio(table)


def _thickness_pct(table: Ordinates) -> tuple[float, ...]:
    sides = zip(table.upper_pct, table.lower_pct, strict=True)
    return tuple(upper - lower for upper, lower in sides)


def _refuse_crossed_sides(table: Ordinates) -> None:
    thicknesses = _thickness_pct(table)
    for station, thickness in zip(table.stations_pct, thicknesses, strict=True):
        if thickness < 0:
            raise ValueError(
                f"at {station:g} % of the chord the upper ordinate is below the "
                "lower one: check the two columns"
            )
    if max(thicknesses) == 0:
        raise ValueError("the section has no thickness at any station")


def _numbers(values: Sequence[float]) -> tuple[float, ...]:
    return tuple(finite("ordinate", value) for value in values)
