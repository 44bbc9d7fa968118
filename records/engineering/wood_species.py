"""Shrinkage figures of species, from the table in ``shared/`` with its sources."""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from records.engineering.shrinkage import (
    change_by_coefficient,
    coefficient_at_ring_angle,
)

_TABLE = (
    Path(__file__).resolve().parents[2]
    / "shared"
    / "wood_shrinkage_and_coefficients.csv"
)


@dataclass(frozen=True, slots=True)
class SpeciesFigures:
    """Shrinkage and dimensional change of one species.

    Attributes
    ----------
    species : str
        Name as in the handbook, family first [-].
    radial_pct : float
        Shrinkage across the rings, green to oven-dry [%].
    tangential_pct : float
        Shrinkage along the rings, green to oven-dry [%].
    volumetric_pct : float
        Shrinkage of the volume, green to oven-dry [%].
    radial_coefficient : float or None
        Dimensional change coefficient across the rings; None if not printed [-].
    tangential_coefficient : float or None
        Dimensional change coefficient along the rings; None if not printed [-].
    shrinkage_source : str
        Whether the print was seen or recalled [-].
    coefficient_source : str
        Whether the print was seen or recalled [-].
    """

    species: str
    radial_pct: float
    tangential_pct: float
    volumetric_pct: float
    radial_coefficient: float | None
    tangential_coefficient: float | None
    shrinkage_source: str
    coefficient_source: str


def species_names() -> tuple[str, ...]:
    """List the species that the table holds.

    Returns
    -------
    tuple[str, ...]
        Names in the order of the table [-].

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), Tables 4-3, 4-4 and 13-5.

    Examples
    --------
    >>> species_names()[:2]
    ('Ash, white', 'Birch, yellow')
    """
    return tuple(_figures())


def species_figures(species: str) -> SpeciesFigures:
    """Look up the shrinkage figures of a species.

    Parameters
    ----------
    species : str
        Name as `species_names` gives it [-].

    Returns
    -------
    SpeciesFigures
        Its figures with their sources [see `SpeciesFigures`].

    Raises
    ------
    ValueError
        If the species is not in the table.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), Tables 4-3, 4-4 and 13-5.

    Examples
    --------
    >>> species_figures("Birch, yellow").tangential_coefficient
    0.00338
    """
    try:
        return _figures()[species]
    except KeyError:
        raise ValueError(
            f"species {species!r} is not in the table; enter the shop's own "
            f"coefficient, or use one of {'; '.join(species_names())}"
        ) from None


def hub_thickness_change(
    species: str,
    thickness: float,
    ring_angle_deg: float,
    initial_pct: float,
    final_pct: float,
) -> float:
    """Find how a hub's thickness changes between two moisture contents.

    Parameters
    ----------
    species : str
        Name as `species_names` gives it [-].
    thickness : float
        Thickness of the hub at the initial content [any unit].
    ring_angle_deg : float
        Angle between growth rings and wide face: 0 flat-sawn, 90 quarter-sawn [deg].
    initial_pct : float
        Moisture content at which the thickness was read, 6 to 14 [%].
    final_pct : float
        Moisture content wanted, 6 to 14 [%].

    Returns
    -------
    float
        Change of the thickness; negative when it shrinks [unit of the thickness].

    Raises
    ------
    ValueError
        If the species has no printed coefficient, or as for `change_by_coefficient`.

    References
    ----------
    Wood Handbook, FPL-GTR-190 (2010), ch. 13, change by coefficient, Table 13-5.

    Examples
    --------
    >>> hub_thickness_change("Birch, yellow", 100, 90, 12, 8)
    -1.352
    """
    figures = species_figures(species)
    radial, tangential = figures.radial_coefficient, figures.tangential_coefficient
    if radial is None or tangential is None:
        raise ValueError(
            f"no dimensional change coefficient is printed for {species}; enter the "
            "shop's own"
        )
    coefficient = coefficient_at_ring_angle(radial, tangential, ring_angle_deg)
    return change_by_coefficient(thickness, coefficient, initial_pct, final_pct)


@cache
def _figures() -> dict[str, SpeciesFigures]:
    with _TABLE.open(encoding="utf-8") as lines:
        rows = csv.DictReader(line for line in lines if not line.startswith("#"))
        return {row["species"]: _from_row(row) for row in rows}


def _from_row(row: dict[str, str]) -> SpeciesFigures:
    return SpeciesFigures(
        species=row["species"],
        radial_pct=float(row["s_radial"]),
        tangential_pct=float(row["s_tangential"]),
        volumetric_pct=float(row["s_volumetric"]),
        radial_coefficient=float(row["CR"]) if row["CR"] else None,
        tangential_coefficient=float(row["CT"]) if row["CT"] else None,
        shrinkage_source=row["status_shrinkage"],
        coefficient_source=row["status_coefficients"],
    )
