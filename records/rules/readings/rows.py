"""From a reading that may be logged to the row that is kept of it, judged."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db.models import Model
from django.utils.timezone import localtime

from records.engineering import units
from records.models import Characteristic, PressLoad, Reading, Shop
from records.queries.readings.context import ReadingContext, uncertainty_of
from records.queries.subjects import kind_of
from records.rules.figures import ANSWERS, as_sentence
from records.rules.finding import Finding
from records.rules.readings.draft import GLUE_LINE, Draft
from records.rules.readings.judging import (
    Judged,
    Verdict,
    as_stored,
    judge_answer,
    judge_glue_line,
    judge_value,
)
from records.rules.readings.limits import InForce, in_force_at_once, limit_from
from records.spelling.moments import when

Kind = Characteristic.Kind


@dataclass(frozen=True, slots=True)
class Row:
    """A row to be kept, or why it can't be."""

    reading: Reading | None
    findings: tuple[Finding, ...] = ()


def judged_row(draft: Draft, context: ReadingContext, flags: list[str]) -> Row:
    """Judge a reading by the limit in force when it was taken."""
    limit = limit_from(
        draft.characteristic,
        context.limits_at(draft.happened_at),
        station=draft.station,
        load=draft.subject if isinstance(draft.subject, PressLoad) else None,
    )
    if limit and limit.limit and not in_force_at_once(limit, draft.happened_at):
        start = when(limit.limit.in_force_from)
        flags = [*flags, f"Held against the first limit, in force from {start}."]
    return row_held_against(draft, context, limit, context.shop.decision_rule, flags)


def row_held_against(
    draft: Draft,
    context: ReadingContext,
    limit: InForce | None,
    rule: str,
    flags: list[str],
) -> Row:
    """Judge a reading by a given limit, by a given decision rule."""
    try:
        judged = _judged(draft, context, limit, rule)
    except ValueError as error:
        return Row(None, (Finding(as_sentence(error), "entered"),))
    if limit and rule == Shop.DecisionRule.GUARDED and judged.uncertainty is None:
        flags = [*flags, "Judged without an uncertainty: none is known."]
    row = Reading(
        **subject_field(draft.subject),
        **kept_of(judged, limit),
        characteristic=draft.characteristic,
        blade=draft.blade,
        station=draft.station,
        joint=draft.joint,
        point=draft.point.strip(),
        happened_at=draft.happened_at,
        entered=_entered(draft),
        unit=draft.unit if draft.characteristic.kind == Kind.MEASURED else "",
        gauge=draft.gauge,
        flags="\n".join(flags),
    )
    return Row(row)


def subject_field(thing: Model) -> dict[str, Model]:
    """Name the column of a thing, with the thing."""
    return {kind_of(thing): thing}


def kept_of(judged: Judged, limit: InForce | None) -> dict[str, Any]:
    """Give the columns that keep a verdict with the limit it was reached by."""
    has_sides = limit is not None and judged.judged is not None
    return {
        "verdict": judged.verdict,
        "value_si": judged.value_si,
        "judged": as_stored(judged.judged),
        "judged_unit": judged.unit,
        "standard_uncertainty": judged.uncertainty,
        "probability": judged.probability,
        "rule": judged.rule,
        "low": limit.low if limit and has_sides else None,
        "high": limit.high if limit and has_sides else None,
        "limit": limit.limit if limit and has_sides else None,
        "limit_source": limit.source if limit and has_sides else "",
    }


def stored_limit(reading: Reading) -> InForce | None:
    """Give the limit that a reading was held against, as it was stored."""
    if reading.low is None and reading.high is None:
        return None
    return InForce(
        reading.low,
        reading.high,
        reading.judged_unit,
        reading.limit_source,
        reading.limit,
    )


def _judged(
    draft: Draft, context: ReadingContext, limit: InForce | None, rule: str
) -> Judged:
    kind = draft.characteristic.kind
    if kind == Kind.YES_NO:
        return judge_answer(_entered(draft))
    if kind == Kind.NOTE:
        return Judged(Verdict.NO_LIMIT)
    value = units.parse_number(draft.entered)
    size = _uncertainty(draft, context)
    load = draft.subject
    if draft.characteristic.computed == GLUE_LINE and isinstance(load, PressLoad):
        return judge_glue_line(
            value, draft.unit, load, limit, rule=rule, uncertainty=size
        )
    return judge_value(value, draft.unit, limit, rule=rule, uncertainty=size)


def _uncertainty(draft: Draft, context: ReadingContext) -> float | None:
    """Give the standard uncertainty of a reading in the unit it was entered in."""
    if draft.gauge is None:
        return None
    day = localtime(draft.happened_at).date()
    size = uncertainty_of(draft.gauge, context.calibration(draft.gauge, day))
    if size is None:
        return None
    shown = Decimal(repr(size))
    return float(units.convert_difference(shown, draft.gauge.unit, draft.unit))


def _entered(draft: Draft) -> str:
    typed = draft.entered.strip()
    if draft.characteristic.kind == Kind.YES_NO:
        return ANSWERS.get(typed.lower(), typed)
    return typed
