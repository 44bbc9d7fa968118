"""Which limit applies to a reading: the drawing's, the load's, the route's."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from records.models import Characteristic, Limit, PressLoad, Revision, Station
from records.queries.routes.revisions import limits_in_force
from records.spelling.limits import limit as limit_in_words
from records.spelling.limits import source_of

Nominal = Characteristic.Nominal


@dataclass(frozen=True, slots=True)
class InForce:
    """The limit that a reading is held against, and where it comes from."""

    low: Decimal | None
    high: Decimal | None
    unit: str
    source: str
    limit: Limit | None = None

    @property
    def words(self) -> str:
        """The sides in words, in both unit systems; empty without any."""
        return limit_in_words(self.low, self.high, self.unit)


def limit_for(
    characteristic: Characteristic,
    design_revision: Revision | None,
    station: Station | None,
    moment: dt.datetime,
) -> InForce | None:
    """Find the limit of a characteristic in force at a moment (one query at most).

    The station table of the design gives angle, chord and thickness. Otherwise the
    newest limit applies, a design's own before the route's. None where there is none.
    """
    if station is not None and characteristic.nominal:
        return station_limit(characteristic.nominal, station)
    design = design_revision.pk if design_revision else None
    in_force = limits_in_force([characteristic.pk], moment, design)
    return written_limit(in_force.get(characteristic.pk))


def limit_from(
    characteristic: Characteristic,
    limits: Mapping[int, Limit],
    *,
    station: Station | None = None,
    load: PressLoad | None = None,
) -> InForce | None:
    """Choose the limit of a characteristic among rows read before: no query."""
    if station is not None and characteristic.nominal:
        return station_limit(characteristic.nominal, station)
    computed = characteristic.computed
    if load is not None and computed == Characteristic.Computed.GLUE_LINE_PRESSURE:
        return load_limit(load)
    return written_limit(limits.get(characteristic.pk))


def station_limit(nominal: str, station: Station) -> InForce:
    """Give the limit of the station table: the drawing's figure, less and more."""
    figure, tolerance, unit = {
        Nominal.ANGLE: (station.angle_deg, station.angle_tolerance_deg, "deg"),
        Nominal.CHORD: (station.chord_mm, station.chord_tolerance_mm, "mm"),
        Nominal.THICKNESS: (
            station.thickness_mm,
            station.thickness_tolerance_mm,
            "mm",
        ),
    }[Nominal(nominal)]
    return InForce(
        low=Decimal(figure) - Decimal(tolerance),
        high=Decimal(figure) + Decimal(tolerance),
        unit=unit,
        source=f"drawing, station at {station}",
    )


def load_limit(load: PressLoad) -> InForce:
    """Give the pressure range that the glue of a press load asks for."""
    return InForce(
        low=Decimal(load.pressure_low_pa),
        high=Decimal(load.pressure_high_pa),
        unit="Pa",
        source=f"maker's sheet of the glue, kept with press load {load.number}",
    )


def written_limit(limit: Limit | None) -> InForce | None:
    """Give a limit as it was written, with its kind of source, place and revision."""
    if limit is None:
        return None
    return InForce(limit.low, limit.high, limit.unit, source_of(limit), limit)


def in_force_at_once(limit: InForce | None, moment: dt.datetime) -> bool:
    """Tell whether a limit was in force when something was read."""
    row = limit.limit if limit else None
    return row is None or row.in_force_from <= moment
