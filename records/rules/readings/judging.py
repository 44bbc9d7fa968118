"""Judge a reading: against which figure, by which rule, with what uncertainty."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from records.engineering import decision, units
from records.models import Characteristic, PressLoad, Reading
from records.rules.pressing.glue_line import glue_line_pressure
from records.rules.readings.limits import InForce

Verdict = Reading.Verdict
PLACES = Decimal("1e-8")
YES, NO = "yes", "no"


@dataclass(frozen=True, slots=True)
class Judged:
    """A verdict with everything it was reached from."""

    verdict: str
    value_si: float | None = None
    judged: Decimal | None = None
    unit: str = ""
    uncertainty: float | None = None
    probability: float | None = None
    rule: str = ""


def judge_answer(answer: str) -> Judged:
    """Judge a yes or no: yes is inside."""
    return Judged(Verdict.INSIDE if answer == YES else Verdict.OUTSIDE)


def judge_value(
    value: Decimal,
    unit: str,
    limit: InForce | None,
    *,
    rule: str,
    uncertainty: float | None = None,
) -> Judged:
    """Judge a measured value in the limit's unit, converted without rounding.

    `uncertainty` is the standard uncertainty of the value, in `unit`.
    """
    value_si = units.to_si(value, unit)
    if limit is None:
        return Judged(Verdict.NO_LIMIT, value_si, value, unit, uncertainty)
    converted = units.convert(value, unit, limit.unit)
    in_limits_unit = _difference(uncertainty, unit, limit.unit)
    return _held_against(limit, converted, value_si, in_limits_unit, rule)


def judge_glue_line(
    value: Decimal,
    unit: str,
    load: PressLoad,
    limit: InForce | None,
    *,
    rule: str,
    uncertainty: float | None = None,
) -> Judged:
    """Judge what a press gauge shows by the pressure it makes at the glue line.

    Raises ValueError when the pressure can't be computed from the figure.
    """
    shown = units.to_si(value, unit)
    pressure = glue_line_pressure(load, shown)
    in_limits_unit = None
    if uncertainty is not None and shown > 0:
        slope = pressure / shown  # every press is in proportion
        in_limits_unit = units.to_si(Decimal(repr(uncertainty)), unit) * slope
    if limit is None:
        return Judged(Verdict.NO_LIMIT, shown, _plain(pressure), "Pa", in_limits_unit)
    return _held_against(limit, _plain(pressure), shown, in_limits_unit, rule)


def judge_range(
    readings: Sequence[Reading],
    characteristic: Characteristic,
    limit: InForce | None,
    *,
    rule: str,
) -> tuple[Decimal, Judged]:
    """Judge the difference between the highest and the lowest of some readings.

    Gives the difference in the characteristic's unit, and what it comes to. Its
    uncertainty is that of the two, taken as independent.
    """
    target = limit.unit if limit else characteristic.unit
    figures = [(_figure(r, target), r.pk, r) for r in readings]
    (high, _, top), (low, _, bottom) = max(figures), min(figures)
    difference = high - low
    sizes = [_of_reading(r, target) for r in (top, bottom)]
    known = [s for s in sizes if s is not None]
    in_limits_unit = math.hypot(*known) if len(known) == len(sizes) else None
    shown = units.convert_difference(difference, target, characteristic.unit)
    si = units.units_of(units.dimension(target))[0]
    value_si = float(units.convert_difference(difference, target, si))
    if limit is None:
        return shown, Judged(
            Verdict.NO_LIMIT, value_si, difference, target, in_limits_unit
        )
    return shown, _held_against(limit, difference, value_si, in_limits_unit, rule)


def as_stored(value: Decimal | None) -> Decimal | None:
    """Round a judged figure to the places its column keeps, after judging."""
    return None if value is None else value.quantize(PLACES)


def _held_against(
    limit: InForce,
    value: Decimal,
    value_si: float,
    uncertainty: float | None,
    rule: str,
) -> Judged:
    outcome = decision.judge(
        value,
        limit.low,
        limit.high,
        standard_uncertainty=uncertainty or 0.0,
        rule=rule,
    )
    return Judged(
        verdict=str(outcome.verdict),
        value_si=value_si,
        judged=value,
        unit=limit.unit,
        uncertainty=uncertainty,
        probability=outcome.probability_of_conformity,
        rule=rule,
    )


def _difference(size: float | None, unit: str, target: str) -> float | None:
    if size is None:
        return None
    return float(units.convert_difference(Decimal(repr(size)), unit, target))


def _figure(reading: Reading, target: str) -> Decimal:
    return units.convert(units.parse_number(reading.entered), reading.unit, target)


def _of_reading(reading: Reading, target: str) -> float | None:
    unit = reading.judged_unit or reading.unit
    return _difference(reading.standard_uncertainty, unit, target)


def _plain(value: float) -> Decimal:
    return Decimal(repr(value))
