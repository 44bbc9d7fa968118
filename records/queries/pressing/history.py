"""How a press load was held: lowest pressure, dips, cure, earliest opening."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field

from records.engineering.curing import Cure, cure, forecast_opening, opening_time
from records.engineering.histories import dips
from records.engineering.pressing import hold_time
from records.models import GlueSheet, PressLoad, PressSample
from records.queries.gluing.times import Table, tables_of
from records.queries.pressing.loads import samples_of, sheets_in

History = list[tuple[float, float]]


@dataclass(frozen=True, slots=True)
class PressDip:
    """A span with less than the least pressure, good sample to good sample.

    `matters` is False where the glue had cured before it began.
    """

    start: dt.datetime
    end: dt.datetime
    lowest_pa: float
    ended: bool
    matters: bool

    @property
    def duration_s(self) -> float:
        """Length of the dip [s]."""
        return (self.end - self.start).total_seconds()


@dataclass(frozen=True, slots=True)
class GlueCure:
    """How far one glue in the load has cured.

    `opening_at` is when its press time was reached, `forecast_at` when it will be if
    the last temperature stays. `unknown` says why nothing can be said.
    """

    sheet: GlueSheet
    cure: Cure | None = None
    opening_at: dt.datetime | None = None
    forecast_at: dt.datetime | None = None
    unknown: str = ""


@dataclass(frozen=True, slots=True)
class PressHistory:
    """A load from pressure on to pressure off, as far as it was sampled.

    Figures are of the glue line. `reached_at` is the first sample at the least
    pressure or above; lowest and dips count from there, pumping up is no dip.
    """

    load: PressLoad
    samples: list[PressSample] = field(default_factory=list)
    cures: list[GlueCure] = field(default_factory=list)
    reached_at: dt.datetime | None = None
    lowest_pa: float | None = None
    highest_pa: float | None = None
    held_s: float = 0.0
    dips: tuple[PressDip, ...] = ()

    @property
    def longest_below_s(self) -> float:
        """Longest single time below the least pressure [s]."""
        return max((dip.duration_s for dip in self.dips), default=0.0)

    @property
    def fraction(self) -> float | None:
        """Part of its press time that the slowest glue has reached, or None."""
        known = [c.cure.fraction for c in self.cures if c.cure]
        return min(known) if known and len(known) == len(self.cures) else None

    @property
    def opening_at(self) -> dt.datetime | None:
        """When every glue had its press time; None while one has not."""
        known = [c.opening_at for c in self.cures if c.opening_at]
        return max(known) if known and len(known) == len(self.cures) else None

    @property
    def forecast_at(self) -> dt.datetime | None:
        """When every glue will have its press time, if the temperature stays."""
        known = [t for c in self.cures if (t := c.opening_at or c.forecast_at)]
        return max(known) if known and len(known) == len(self.cures) else None

    @property
    def temperatures_c(self) -> list[float]:
        """Temperatures that were sampled [°C]."""
        return [celsius for _, celsius in _heat(self.load, self.samples)]


def press_history(load: PressLoad) -> PressHistory:
    """Gather how a load was held: three queries, however many samples."""
    blanks = list(load.loaded.values_list("blank", flat=True))
    sheets = sheets_in(blanks)
    tables = tables_of([sheet.pk for sheet in sheets])
    press_times = [(sheet, tables[sheet.pk].press_time) for sheet in sheets]
    return history_from(load, samples_of(load), press_times)


def history_from(
    load: PressLoad,
    samples: list[PressSample],
    press_times: Sequence[tuple[GlueSheet, Table]],
) -> PressHistory:
    """Work out how a load was held from rows read before: no query."""
    heat = _heat(load, samples)
    cures = [_cured(load, heat, sheet, table) for sheet, table in press_times]
    bare = PressHistory(load, samples, cures)
    if not samples:
        return bare
    least = float(load.pressure_low_pa)
    pressures = [s.glue_line_pa for s in samples]
    first = next((i for i, p in enumerate(pressures) if p >= least), None)
    counted = samples[first:] if first is not None else samples
    held = [(_seconds(load, s.at), s.glue_line_pa) for s in counted]
    return PressHistory(
        load=load,
        samples=samples,
        cures=cures,
        reached_at=None if first is None else samples[first].at,
        lowest_pa=min(pressure for _, pressure in held),
        highest_pa=max(pressures),
        held_s=hold_time(held, least) if least > 0 else held[-1][0] - held[0][0],
        dips=() if first is None else _dips(load, held, least, bare.opening_at),
    )


def _dips(
    load: PressLoad, held: History, least: float, cured_at: dt.datetime | None
) -> tuple[PressDip, ...]:
    press_dips = []
    for dip in dips(held, least):
        start = load.on_at + dt.timedelta(seconds=dip.start_s)
        end = load.on_at + dt.timedelta(seconds=dip.end_s)
        matters = cured_at is None or start < cured_at
        press_dips.append(PressDip(start, end, dip.lowest, dip.ended, matters))
    return tuple(press_dips)


def _cured(load: PressLoad, heat: History, sheet: GlueSheet, table: Table) -> GlueCure:
    if not table:
        return GlueCure(sheet, unknown=f"{sheet}: the sheet gives no press time.")
    if not heat:
        return GlueCure(sheet, unknown="No temperature was sampled.")
    try:
        reached = opening_time(heat, table)
        glue_cure = GlueCure(
            sheet=sheet,
            cure=cure(heat, table),
            opening_at=_moment(load, reached) if reached is not None else None,
            forecast_at=_forecast(load, heat, table),
        )
    except ValueError as error:
        return GlueCure(sheet, unknown=f"{sheet}: {error}.")
    return glue_cure


def _forecast(load: PressLoad, heat: History, table: Table) -> dt.datetime | None:
    """Forecast the opening, unless the table says nothing at the last temperature."""
    last = heat[-1][1]
    if not table[0][0] <= last <= table[-1][0]:
        return None
    return _moment(load, forecast_opening(heat, table, last))


def _moment(load: PressLoad, seconds: float) -> dt.datetime:
    return load.on_at + dt.timedelta(seconds=seconds)


def _seconds(load: PressLoad, at: dt.datetime) -> float:
    return (at - load.on_at).total_seconds()


def _heat(load: PressLoad, samples: list[PressSample]) -> History:
    return [
        (_seconds(load, s.at), float(s.temperature_c))
        for s in samples
        if s.temperature_c is not None
    ]
