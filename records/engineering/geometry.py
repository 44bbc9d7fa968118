"""Pitch of a blade from its angles, and how far the blades differ.

Pitch here is geometric: the advance in one turn of a screw that has the blade's
angle at that radius. A constant-pitch blade shows the same pitch at each station.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, stdev

from records.engineering.validity import (
    at_least,
    finite,
    increasing,
    not_negative,
    positive,
    spelled,
)


@dataclass(frozen=True, slots=True)
class MeanPitch:
    """Pitch of a blade over its stations.

    Attributes
    ----------
    mean_mm : float
        Arithmetic mean over the stations, each counted once [mm].
    standard_deviation_mm : float or None
        Sample standard deviation; None with one station [mm].
    range_mm : float
        Highest less lowest [mm].
    stations_mm : tuple[float, ...]
        Pitch at each station, in the order given [mm].
    """

    mean_mm: float
    standard_deviation_mm: float | None
    range_mm: float
    stations_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class StationDifference:
    """How the blades compare at one station.

    Attributes
    ----------
    radius_mm : float
        Distance of the station from the shaft's axis [mm].
    mean : float
        Mean over the blades [unit of reading].
    difference : float
        Highest blade less lowest blade [unit of reading].
    high_blade : int
        Number of the blade with the highest reading, the first of equals [-].
    low_blade : int
        Number of the blade with the lowest reading, the first of equals [-].
    """

    radius_mm: float
    mean: float
    difference: float
    high_blade: int
    low_blade: int


def pitch_from_blade_angle(radius_mm: float, angle_deg: float) -> float:
    """Return the pitch of a blade from its angle at a station.

    Parameters
    ----------
    radius_mm : float
        Distance of the station from the shaft's axis [mm].
    angle_deg : float
        Blade angle: chord line to plane of rotation, 0 to under 90 [deg].

    Returns
    -------
    float
        Geometric pitch [mm].

    Raises
    ------
    ValueError
        If the radius is not above zero, or the angle below 0 or not below 90 deg.

    References
    ----------
    H. Barber, The Aeroplane Speaks (c. 1917), in words; as a formula,
    p = 2 pi r tan(beta), at heli-air.net.

    Examples
    --------
    Station at 686 mm, 15 deg (computed):

    >>> pitch_from_blade_angle(686, 15)
    1154.93
    """
    positive("station radius", radius_mm, "mm")
    return 2 * math.pi * radius_mm * math.tan(math.radians(_blade_angle(angle_deg)))


def blade_angle_from_pitch(radius_mm: float, pitch_mm: float) -> float:
    """Return the blade angle that gives a pitch at a station.

    Parameters
    ----------
    radius_mm : float
        Distance of the station from the shaft's axis [mm].
    pitch_mm : float
        Geometric pitch, 0 or more [mm].

    Returns
    -------
    float
        Blade angle: chord line to plane of rotation [deg].

    Raises
    ------
    ValueError
        If the radius is not above zero or the pitch is negative.

    References
    ----------
    p = 2 pi r tan(beta), solved for beta; example at indoorfreeflight.com, which
    prints 32.90 deg for a pitch of 16 in at a radius of 3.937 in.

    Examples
    --------
    >>> blade_angle_from_pitch(3.937 * 25.4, 16 * 25.4)
    32.90
    """
    positive("station radius", radius_mm, "mm")
    not_negative("pitch", pitch_mm, "mm")
    return math.degrees(math.atan(pitch_mm / (2 * math.pi * radius_mm)))


def mean_pitch(radii_mm: Sequence[float], angles_deg: Sequence[float]) -> MeanPitch:
    """Return the mean pitch of a blade and its scatter over the stations.

    Parameters
    ----------
    radii_mm : Sequence[float]
        Station radii, rising [mm].
    angles_deg : Sequence[float]
        Blade angle at each station, 0 to under 90 [deg].

    Returns
    -------
    MeanPitch
        Mean, standard deviation, range and each station's pitch [mm].

    Raises
    ------
    ValueError
        If there is no station, the lists differ in length, the radii do not rise,
        or a value is out of its range.

    References
    ----------
    p = 2 pi r tan(beta) at each station; the mean is unweighted: a convention of
    this package, as no published weighting was found.

    Examples
    --------
    Diameter 68 in, pitch 48 in, angles printed to 0.001 deg (computed):

    >>> radii = [25.4 * 34 * x for x in (0.45, 0.60, 0.75, 0.90)]
    >>> pitch = mean_pitch(radii, [26.533, 20.530, 16.677, 14.018])
    >>> round(pitch.mean_mm / 25.4, 2)
    48.0
    """
    at_least("stations", radii_mm, 1)
    _one_each("blade angle", radii_mm, angles_deg)
    increasing("station radii", radii_mm, "mm")
    pitches = tuple(map(pitch_from_blade_angle, radii_mm, angles_deg))
    return MeanPitch(
        mean_mm=fmean(pitches),
        standard_deviation_mm=stdev(pitches) if len(pitches) > 1 else None,
        range_mm=max(pitches) - min(pitches),
        stations_mm=pitches,
    )


def blade_differences(
    radii_mm: Sequence[float], blades: Sequence[Sequence[float]]
) -> tuple[StationDifference, ...]:
    """Compare the blades at each station.

    Any reading that is taken at the same stations of each blade will do: angle,
    pitch, chord, thickness.

    Parameters
    ----------
    radii_mm : Sequence[float]
        Station radii, rising [mm].
    blades : Sequence[Sequence[float]]
        For each blade from number 1, its readings by station [any one unit].

    Returns
    -------
    tuple[StationDifference, ...]
        One comparison for each station [unit of reading].

    Raises
    ------
    ValueError
        If there is no station, fewer than two blades, a blade with a reading too
        few or too many, radii that do not rise, or a value that is not finite.

    References
    ----------
    Definition. Limits differ: H. Barber, The Aeroplane Speaks (c. 1917), 1/2 deg;
    MIL-P-26366A (seen as quoted), 0.2 deg of mean aerodynamic angle.

    Examples
    --------
    >>> station, = blade_differences([686], [[15.0], [15.3], [14.9]])
    >>> station.difference, station.high_blade, station.low_blade
    (0.4, 2, 3)
    """
    at_least("stations", radii_mm, 1)
    at_least("blades", blades, 2)
    for readings in blades:
        _one_each("reading", radii_mm, readings)
    positive("station radius", radii_mm[0], "mm")
    increasing("station radii", radii_mm, "mm")
    by_station = zip(*blades, strict=True)
    return tuple(map(_station_difference, radii_mm, by_station))


def _station_difference(
    radius_mm: float, readings: Sequence[float]
) -> StationDifference:
    numbers = [finite("reading", reading) for reading in readings]
    high, low = max(numbers), min(numbers)
    return StationDifference(
        radius_mm=radius_mm,
        mean=fmean(numbers),
        difference=high - low,
        high_blade=numbers.index(high) + 1,
        low_blade=numbers.index(low) + 1,
    )


def _blade_angle(angle_deg: float) -> float:
    angle = not_negative("blade angle", angle_deg, "deg")
    if angle >= 90:
        raise ValueError(f"blade angle {spelled(angle, 'deg')} must be below 90 deg")
    return angle


def _one_each(what: str, radii_mm: Sequence[float], values: Sequence[float]) -> None:
    if len(values) != len(radii_mm):
        raise ValueError(
            f"{len(radii_mm)} stations but {len(values)} of {what}: "
            f"give one {what} for each station"
        )
