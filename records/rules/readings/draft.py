"""May this be logged? Everything that speaks against a reading, at once."""

import datetime as dt
from dataclasses import dataclass

from django.db.models import Model
from django.utils.timezone import localtime

from records.engineering import units
from records.models import (
    Blank,
    Characteristic,
    Gauge,
    Lamination,
    PressLoad,
    Propeller,
    Shop,
    Station,
)
from records.queries.readings.context import ReadingContext
from records.queries.subjects import WORDS, called, kind_of
from records.rules.figures import figure_is_possible
from records.rules.finding import Finding, warning
from records.rules.fitness import gauge_fit
from records.rules.moments import already_happened
from records.rules.pressing.glue_line import shown_by
from records.rules.readings.hold_points import hold_points_are_signed
from records.spelling.numbers import plain

Per = Characteristic.Per
GLUE_LINE = Characteristic.Computed.GLUE_LINE_PRESSURE
LOOSE = {"lot", "board", "lamination"}


@dataclass(frozen=True, slots=True)
class Draft:
    """A reading as it was typed, before anything is known to be right about it."""

    subject: Model
    characteristic: Characteristic
    entered: str
    unit: str
    happened_at: dt.datetime
    gauge: Gauge | None = None
    blade: int | None = None
    station: Station | None = None
    joint: int | None = None
    point: str = ""


def may_be_logged(
    draft: Draft, context: ReadingContext, now: dt.datetime
) -> list[Finding]:
    """Say all that speaks against a reading: blockers and warnings together."""
    characteristic = draft.characteristic
    findings = belongs_here(draft, context)
    if characteristic.is_range:
        return [
            *findings,
            Finding(
                f"{characteristic.name} is computed from other readings.",
                "characteristic",
            ),
        ]
    findings += figure_is_possible(
        characteristic, draft.entered, draft.unit, measures(draft)
    )
    findings += already_happened(draft.happened_at, now)
    findings += place_is_right(draft, context)
    findings += gauge_is_right(draft, context)
    if any(f.field == "characteristic" for f in findings):
        return findings
    return findings + hold_points_are_signed(context.progress, characteristic.stage)


def belongs_here(draft: Draft, context: ReadingContext) -> list[Finding]:
    """Say why this thing is not read for this stage, or not any more."""
    characteristic, thing = draft.characteristic, draft.subject
    findings = thing_can_be_read(thing)
    if kind_of(thing) != characteristic.on:
        findings.append(
            Finding(
                f"{characteristic.name} is read on a {WORDS[characteristic.on]}, "
                f"not on {called(thing)}.",
                "characteristic",
            )
        )
    return findings + _same_route(characteristic, thing, context)


def thing_can_be_read(thing: Model) -> list[Finding]:
    """Say why nothing is read on a thing any more, or what to know before."""
    name = called(thing)
    name = f"{name[0].upper()}{name[1:]}"
    scrapped = isinstance(thing, Blank) and thing.state == Blank.State.SCRAPPED
    if isinstance(thing, Propeller):
        scrapped = thing.state == Propeller.State.SCRAPPED
        done = (Propeller.State.RELEASED, Propeller.State.DELIVERED)
        if thing.state in done:
            return [warning(f"{name} was {thing.get_state_display()} before this.")]
    if isinstance(thing, Lamination) and thing.state == Lamination.State.VOID:
        return [Finding(f"{name} is void: {thing.void_reason}")]
    return [Finding(f"{name} is scrapped: nothing more is read.")] if scrapped else []


def place_is_right(draft: Draft, context: ReadingContext) -> list[Finding]:
    """Say what is wrong with blade, station or joint."""
    per = draft.characteristic.per
    return [
        *_blade(draft, context, needed=per in {Per.BLADE, Per.STATION}),
        *_station(draft, context, needed=per == Per.STATION),
        *_joint(draft, context, needed=per == Per.JOINT),
    ]


def gauge_is_right(draft: Draft, context: ReadingContext) -> list[Finding]:
    """Say what is wrong with the gauge: none, unfit, another unit, out of range."""
    characteristic, gauge = draft.characteristic, draft.gauge
    if gauge is None:
        sentence = f"Name the gauge that {characteristic.name} was read with."
        return [Finding(sentence, "gauge")] if characteristic.gauge_needed else []
    day = localtime(draft.happened_at).date()
    unfit = gauge_fit(gauge, day, context.calibration(gauge, day))
    flag = context.shop.overdue_gauge == Shop.OverdueGauge.FLAG
    make = warning if flag else Finding
    findings = [make(f.sentence, "gauge") for f in unfit]
    if characteristic.kind == Characteristic.Kind.MEASURED:
        findings += _shows_it(draft, gauge)
    return findings


def measures(draft: Draft) -> str:
    """Name the quantity to be read, where the press decides it; else nothing."""
    computed = draft.characteristic.computed == GLUE_LINE
    if computed and isinstance(draft.subject, PressLoad):
        return shown_by(draft.subject.press)
    return ""


def _same_route(
    c: Characteristic, thing: Model, context: ReadingContext
) -> list[Finding]:
    provenance, mine = context.provenance, c.stage.revision
    if not provenance.routes or (provenance.blank is None and kind_of(thing) in LOOSE):
        return []
    if isinstance(thing, Blank | Propeller):
        fits = mine.pk in {r.pk for r in provenance.routes}
    else:
        fits = mine.route_id in {r.route_id for r in provenance.routes}
    if fits:
        return []
    by = " and ".join(f"{r.route}, {r}" for r in provenance.routes)
    return [
        Finding(
            f"Stage {c.stage.name} belongs to {mine.route}, {mine}; {called(thing)} "
            f"is built by {by}.",
            "characteristic",
        )
    ]


def _blade(draft: Draft, context: ReadingContext, *, needed: bool) -> list[Finding]:
    name = draft.characteristic.name
    if draft.blade is None:
        return [Finding(f"Say which blade {name} is of.", "blade")] if needed else []
    if not needed:
        return [Finding(f"{name} is not read by blade: leave it empty.", "blade")]
    design = context.provenance.design
    if design is None or 1 <= draft.blade <= design.blades:
        return []
    sentence = (
        f"This design has blades 1 to {design.blades}; there is no {draft.blade}."
    )
    return [Finding(sentence, "blade")]


def _station(draft: Draft, context: ReadingContext, *, needed: bool) -> list[Finding]:
    name, station = draft.characteristic.name, draft.station
    if station is None:
        sentence = f"Say at which station {name} is read."
        return [Finding(sentence, "station")] if needed else []
    if not needed:
        return [Finding(f"{name} is not read by station: leave it empty.", "station")]
    design = context.provenance.design
    if design is not None and station.revision_id != design.pk:
        return [
            Finding(
                f"The station at {station} is of another design; this is "
                f"{design.design}, {design}.",
                "station",
            )
        ]
    return []


def _joint(draft: Draft, context: ReadingContext, *, needed: bool) -> list[Finding]:
    name = draft.characteristic.name
    if draft.joint is None:
        return [Finding(f"Say which joint {name} is of.", "joint")] if needed else []
    if not needed:
        return [Finding(f"{name} is not read by joint: leave it empty.", "joint")]
    design = context.provenance.design
    joints = design.laminations - 1 if design else draft.joint
    if 1 <= draft.joint <= joints:
        return []
    sentence = f"This stack has joints 1 to {joints}; there is no {draft.joint}."
    return [Finding(sentence, "joint")]


def _shows_it(draft: Draft, gauge: Gauge) -> list[Finding]:
    try:
        value = units.parse_number(draft.entered)
        shown = units.convert(value, draft.unit, gauge.unit)
    except ValueError:
        return _other_quantity(draft, gauge)
    if gauge.range_low <= shown <= gauge.range_high:
        return []
    low, high = plain(gauge.range_low), plain(gauge.range_high)
    return [
        Finding(
            f"{draft.entered} {draft.unit} is outside what gauge {gauge.number} "
            f"reads: {low} to {high} {gauge.unit}.",
            "gauge",
        )
    ]


def _other_quantity(draft: Draft, gauge: Gauge) -> list[Finding]:
    try:
        same = units.dimension(draft.unit) == units.dimension(gauge.unit)
    except ValueError:
        return []  # the unit itself is reported with the figure
    if same:
        return []
    sentence = f"Gauge {gauge.number} reads {gauge.unit}, not {draft.unit}."
    return [Finding(sentence, "gauge")]
