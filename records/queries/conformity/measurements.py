"""The readings that count for a finished propeller, as plain facts digit for digit."""

import datetime as dt
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from records.models import Characteristic, Reading, Stage
from records.queries.builds.progress import Progress, StageState

Nominal, Purpose = Characteristic.Nominal, Characteristic.Purpose
HUB = (
    *(Purpose.HUB_THICKNESS, Purpose.HUB_PARALLELISM, Purpose.BORE),
    *(Purpose.BOLT_HOLE, Purpose.BOLT_CIRCLE),
)
BALANCE = (Purpose.BALANCE_LEVEL, Purpose.BALANCE_UPRIGHT)
LENGTH = (Purpose.LENGTH, Purpose.LENGTH_DIFFERENCE)


@dataclass(frozen=True, slots=True)
class Measurements:
    """The stages signed on one propeller, each with its current readings."""

    states: list[StageState]

    def latest(self, *purposes: str) -> list[Reading]:
        """Give the readings that serve a purpose, from the last stage that has any."""
        return self._last(lambda characteristic: characteristic.purpose in purposes)

    def all_of(self, *purposes: str) -> list[Reading]:
        """Give the readings that serve a purpose from every stage, in their order."""
        return [r for r in self.current() if r.characteristic.purpose in purposes]

    def nominal(self, nominal: str) -> list[Reading]:
        """Give the readings held against the station table, at its last stage."""
        return self._last(lambda characteristic: characteristic.nominal == nominal)

    def further(self) -> list[Reading]:
        """Give every other reading: it serves no purpose and is of no station table.

        Differences of station readings belong to those.
        """
        stations = [
            r for nominal in Nominal.values if nominal for r in self.nominal(nominal)
        ]
        apart = {r.pk for r in self.compared(stations)}
        return [
            r
            for r in self.current()
            if not r.characteristic.purpose
            and not r.characteristic.nominal
            and r.pk not in apart
        ]

    def compared(self, readings: Iterable[Reading]) -> list[Reading]:
        """Give the differences computed from some readings."""
        keys = {(r.characteristic.stage.code, r.characteristic.code) for r in readings}
        return [
            r
            for r in self.current()
            if r.characteristic.is_range
            and (r.characteristic.stage.code, r.characteristic.compares) in keys
        ]

    def current(self) -> Iterator[Reading]:
        """Give every current reading, stage by stage."""
        for state in self.states:
            yield from state.current

    def concessions(self) -> set[int]:
        """Name the readings that a closed deviation accepts."""
        return {pk for state in self.states for pk in state.accepted}

    def _last(self, wanted: Callable[[Characteristic], bool]) -> list[Reading]:
        for state in reversed(self.states):
            readings = [r for r in state.current if wanted(r.characteristic)]
            if readings:
                return readings
        return []


def measurements_of(progress: Progress) -> Measurements:
    """Keep the stages signed on the propeller itself."""
    return Measurements([s for s in progress.states if s.kind == Stage.Scope.PROPELLER])


def reading_fact(reading: Reading, *, accepted: bool = False) -> dict[str, Any]:
    """Spell a reading as plain values: as entered, as judged, against what."""
    characteristic = reading.characteristic
    return {
        "id": reading.pk,
        "name": characteristic.name,
        "stage": characteristic.stage.name,
        "entered": reading.entered,
        "unit": reading.unit,
        "judged": number(reading.judged),
        "limit_unit": reading.judged_unit,
        "least": number(reading.low),
        "most": number(reading.high),
        "limit_source": reading.limit_source,
        "verdict": reading.verdict,
        "accepted_by_concession": accepted,
        "blade": reading.blade,
        "station_mm": number(reading.station.radius_mm) if reading.station else None,
        "joint": reading.joint,
        "point": reading.point,
        "how": characteristic.how,
        "gauge": reading.gauge.number if reading.gauge else None,
        "read_at": moment(reading.happened_at),
    }


def number(value: Decimal | None) -> str | None:
    """Spell a number as text, without exponent and empty zeros; None stays None.

    >>> number(Decimal("12.500"))
    '12.5'
    """
    if value is None:
        return None
    text = f"{Decimal(value):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def moment(at: dt.datetime | None) -> str | None:
    """Spell a moment in UTC; None stays None."""
    if at is None:
        return None
    return at.astimezone(dt.UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
