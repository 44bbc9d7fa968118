"""Track: how nearly the blades run in one plane.

A pointer is set fixed at one blade, the others are turned to it in turn, and the
fore-and-aft place of each is read at the same radius.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from records.engineering.validity import (
    at_least,
    finite,
    not_negative,
    positive,
    spelled,
)


@dataclass(frozen=True, slots=True)
class BladePair:
    """Two blades against each other.

    Attributes
    ----------
    first_blade : int
        Number of the one blade [-].
    second_blade : int
        Number of the other blade [-].
    difference_mm : float
        Reading of the second less reading of the first [mm].
    """

    first_blade: int
    second_blade: int
    difference_mm: float


@dataclass(frozen=True, slots=True)
class Track:
    """Track of a propeller at the radius where it was read.

    Attributes
    ----------
    track_mm : float
        Highest reading less lowest reading over the blades [mm].
    radius_mm : float
        Distance of the pointer from the shaft's axis [mm].
    from_tip_mm : float
        Distance of the pointer from the tip circle [mm].
    pairs : tuple[BladePair, ...]
        Each blade against each other [mm].
    """

    track_mm: float
    radius_mm: float
    from_tip_mm: float
    pairs: tuple[BladePair, ...]


def track(
    readings_mm: Sequence[float], *, diameter_mm: float, from_tip_mm: float
) -> Track:
    """Return the track from pointer readings at one radius.

    Parameters
    ----------
    readings_mm : Sequence[float]
        For each blade from number 1, its fore-and-aft reading [mm].
    diameter_mm : float
        Diameter of the propeller [mm].
    from_tip_mm : float
        Distance of the pointer inward from the tip, under the tip radius [mm].

    Returns
    -------
    Track
        Track, blade-to-blade differences and where they were read [mm].

    Raises
    ------
    ValueError
        If there are fewer than two blades, a reading is not finite, or the
        pointer does not stand between the shaft's axis and the tip.

    References
    ----------
    FAA AC 43.13-1B, 8-74 (method). Published limits do not agree: 1/16 in,
    1/8 in, 2 mm and 3 mm were seen, so the limit belongs to the design.

    Examples
    --------
    >>> found = track([0.4, -0.3, 0.1], diameter_mm=1700, from_tip_mm=100)
    >>> found.track_mm, found.radius_mm
    (0.7, 750.0)
    """
    at_least("blades", readings_mm, 2)
    readings = [finite("pointer reading", reading) for reading in readings_mm]
    tip = positive("diameter", diameter_mm, "mm") / 2
    inward = not_negative("distance from the tip", from_tip_mm, "mm")
    if inward >= tip:
        raise ValueError(
            f"distance from the tip {spelled(inward, 'mm')} must be below the "
            f"tip radius {spelled(tip, 'mm')}"
        )
    return Track(
        track_mm=max(readings) - min(readings),
        radius_mm=tip - inward,
        from_tip_mm=inward,
        pairs=tuple(
            BladePair(first, second, after - before)
            for (first, before), (second, after) in combinations(
                enumerate(readings, start=1), 2
            )
        ),
    )
