"""The grid of a stage: blades across, stations down, one table a characteristic."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from django import forms
from django.urls import reverse

from records.models import Characteristic, Reading, Station
from records.queries.builds.progress import StageState
from records.rules.readings.draft import Draft
from records.rules.readings.limits import station_limit
from records.spelling.numbers import plain
from records.spelling.units import unit_name
from records.web.readings.choices import Choices
from records.web.readings.forms import OneOf, unit_field
from records.web.shared.fields import MomentField
from records.web.shared.forms import ShopForm

Per = Characteristic.Per
Place = tuple[Characteristic, Station | None, int]


@dataclass(frozen=True, slots=True)
class Cell:
    """A place in the grid: a field to fill in, or what was read there."""

    blade: int
    field: Any = None
    figure: str = ""
    verdict: str = ""
    url: str = ""


@dataclass(frozen=True, slots=True)
class GridRow:
    """One station, with what the drawing says, and a cell for each blade."""

    station: str
    drawing: str
    cells: list[Cell]


@dataclass(frozen=True, slots=True)
class Table:
    """The grid of one characteristic, with the choice of its unit and gauge."""

    name: str
    limit: str
    blades: list[int]
    rows: list[GridRow]
    chosen: list[Any] = field(default_factory=list)

    @property
    def is_open(self) -> bool:
        """Tell whether anything is left to fill in."""
        return bool(self.chosen)


def gridded(state: StageState) -> list[Characteristic]:
    """List what a stage asks for by blade or by station, computed figures apart."""
    kinds = {Per.BLADE, Per.STATION}
    return [c for c in state.characteristics() if c.per in kinds and not c.is_range]


def standing(state: StageState) -> dict[tuple[int, int | None, int | None], Reading]:
    """Find the newest reading that counts at each place of a grid."""
    codes = {c.code: c.pk for c in state.characteristics()}
    return {
        (codes[r.characteristic.code], r.station_id, r.blade): r
        for r in state.current
        if r.characteristic.code in codes
    }


class GridForm(ShopForm):
    """A field for each place where nothing is read yet; what is empty is left."""

    def __init__(
        self,
        *args: Any,
        state: StageState,
        choices: list[Choices],
        usual: dict[str, int],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.choices = choices
        self.state = state
        self.there = standing(state)
        self.places: dict[str, Place] = {}
        for one in choices:
            characteristic = one.characteristic
            empty = [p for p in _places(one) if not self._is_read(p)]
            for place in empty:
                self.places[_name(place)] = place
                self.fields[_name(place)] = _entered(place)
            if empty:
                unit = unit_field(one.units, f"Unit of {characteristic.name.lower()}")
                self.fields[f"unit_{characteristic.pk}"] = unit
                self.fields[f"gauge_{characteristic.pk}"] = OneOf(
                    one.gauges,
                    label=f"Gauge for {characteristic.name.lower()}",
                    required=False,
                    initial=_usual(one, usual),
                )
        self.fields["happened_at"] = MomentField(label="Read at")

    def tables(self) -> Iterator[Table]:
        """Lay the form out as tables."""
        for one in self.choices:
            characteristic = one.characteristic
            names = [f"unit_{characteristic.pk}", f"gauge_{characteristic.pk}"]
            yield Table(
                name=characteristic.name,
                limit=_limit(characteristic),
                blades=one.blades,
                rows=[self._row(one, s) for s in _stations(one)],
                chosen=[self[name] for name in names if name in self.fields],
            )

    def drafts(self) -> list[tuple[str, Draft]]:
        """Give what was filled in as readings, each with the name of its field."""
        drafts = []
        for name, (characteristic, station, blade) in self.places.items():
            entered = self.cleaned_data.get(name)
            if entered:
                draft = Draft(
                    subject=self.state.subject,
                    characteristic=characteristic,
                    entered=entered,
                    unit=self.cleaned_data[f"unit_{characteristic.pk}"],
                    gauge=self.cleaned_data[f"gauge_{characteristic.pk}"],
                    happened_at=self.cleaned_data["happened_at"],
                    blade=blade,
                    station=station,
                )
                drafts.append((name, draft))
        return drafts

    def field_of(self, finding_field: str, names: list[str]) -> str:
        """Name the form's field for a finding such as "entered-3" or "gauge-3"."""
        what, _, place = finding_field.partition("-")
        name = names[int(place)] if place.isdecimal() else names[0]
        if what in {"unit", "gauge"}:
            return f"{what}_{self.places[name][0].pk}"
        return what if what == "happened_at" else name

    def _is_read(self, place: Place) -> bool:
        asked, station, blade = place
        return (asked.pk, station.pk if station else None, blade) in self.there

    def _row(self, one: Choices, station: Station | None) -> GridRow:
        characteristic = one.characteristic
        cells = []
        for blade in one.blades:
            row = self.there.get(
                (characteristic.pk, station.pk if station else None, blade)
            )
            cells.append(self._cell(characteristic, station, blade, row))
        return GridRow(
            station=str(station) if station else "blade",
            drawing=_drawing(characteristic, station),
            cells=cells,
        )

    def _cell(
        self,
        characteristic: Characteristic,
        station: Station | None,
        blade: int,
        row: Reading | None,
    ) -> Cell:
        if row is None:
            return Cell(blade, self[_name((characteristic, station, blade))])
        return Cell(
            blade,
            figure=f"{row.entered} {unit_name(row.unit)}",
            verdict=row.verdict,
            url=reverse("readings:reading", args=[row.pk]),
        )


def _usual(one: Choices, usual: dict[str, int]) -> int | None:
    """Name the gauge that is probably in hand: the only one, or the last used."""
    if len(one.gauges) == 1:
        return one.gauges[0][0].pk
    return usual.get(one.characteristic.code)


def _stations(one: Choices) -> list[Station | None]:
    return [*one.stations] if one.characteristic.per == Per.STATION else [None]


def _places(one: Choices) -> list[Place]:
    characteristic = one.characteristic
    return [(characteristic, s, b) for s in _stations(one) for b in one.blades]


def _name(place: Place) -> str:
    asked, station, blade = place
    return f"at_{asked.pk}_{station.pk if station else 0}_{blade}"


def _entered(place: Place) -> forms.CharField:
    characteristic, station, blade = place
    spot = (
        f"{characteristic.name}, {station}, " if station else f"{characteristic.name}, "
    )
    low = characteristic.plausible_low
    keyboard = "text" if low is None or low < 0 else "decimal"
    attrs = {
        "inputmode": keyboard,
        "autocomplete": "off",
        "aria-label": f"{spot}blade {blade}",
    }
    return forms.CharField(
        label=f"{spot}blade {blade}",
        required=False,
        max_length=60,
        widget=forms.TextInput(attrs=attrs),
    )


def _limit(characteristic: Characteristic) -> str:
    return "limit from the drawing" if characteristic.nominal else ""


def _drawing(characteristic: Characteristic, station: Station | None) -> str:
    if station is None or not characteristic.nominal:
        return ""
    limit = station_limit(characteristic.nominal, station)
    if limit.low is None or limit.high is None:
        return limit.words
    half = (limit.high - limit.low) / 2
    middle = (limit.high + limit.low) / 2
    return f"{plain(middle)} ± {plain(half)}"
