"""What can't be true of a sample of a press load, typed or from a logger."""

import datetime as dt
from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from decimal import Decimal
from itertools import groupby

from django.utils.timezone import localdate

from records.engineering.units import convert, dimension, to_si
from records.models import Calibration, Gauge, PressLoad, Shop
from records.rules.figures import as_sentence, unit_is_right
from records.rules.finding import Finding, warning
from records.rules.fitness import gauge_fit
from records.rules.moments import already_happened
from records.rules.pressing.glue_line import glue_line_pressure, shown_by
from records.spelling.moments import when

COLDEST_C, HOTTEST_C = Decimal(-40), Decimal(150)
"""A stack outside these is a slip of the pen (own choice)."""
_THOUSANDTH = Decimal("0.001")


def time_is_in_load(
    load: PressLoad, at: dt.datetime, now: dt.datetime, field: str = "at"
) -> list[Finding]:
    """Say why a sample can't have been taken then."""
    if at < load.on_at:
        sentence = f"Pressure went on at {when(load.on_at)}; this is before."
        return [Finding(sentence, field)]
    if load.off_at is not None and at > load.off_at:
        sentence = f"Pressure went off at {when(load.off_at)}; this is after."
        return [Finding(sentence, field)]
    return already_happened(at, now, field)


def moment_is_new(
    at: dt.datetime, taken: Collection[dt.datetime], field: str = "at"
) -> list[Finding]:
    """Say that there is a sample of this moment."""
    if at not in taken:
        return []
    sentence = f"There is a sample of {when(at)}. Correct it if it is not right."
    return [Finding(sentence, field)]


def unit_fits_press(load: PressLoad, unit: str) -> list[Finding]:
    """Say why a figure in this unit is not what the load's press shows."""
    return unit_is_right(f"{load.press}", unit, shown_by(load.press))


def unit_is_of_temperature(unit: str) -> list[Finding]:
    """Say why this is no unit of temperature."""
    findings = unit_is_right("the stack's temperature", unit, "temperature")
    return [Finding(f.sentence, "temperature_unit") for f in findings]


def pressure_is_possible(load: PressLoad, value: Decimal, unit: str) -> list[Finding]:
    """Say why the press can't have shown this figure."""
    try:
        glue_line_pressure(load, to_si(value, unit))
    except ValueError as error:
        return [Finding(as_sentence(error), "entered")]
    return []


def temperature_is_possible(value: Decimal, unit: str) -> list[Finding]:
    """Say why a stack can't be this warm or cold."""
    try:
        celsius = in_celsius(value, unit)
    except ValueError as error:
        return [Finding(as_sentence(error), "temperature_c")]
    if COLDEST_C <= celsius <= HOTTEST_C:
        return []
    sentence = (
        f"{value} {unit} is no temperature of a stack: {COLDEST_C} to {HOTTEST_C} "
        "degC are taken. Check figure and unit."
    )
    return [Finding(sentence, "temperature_c")]


def in_celsius(value: Decimal, unit: str) -> Decimal:
    """Give a temperature in °C, to a thousandth where it was converted."""
    if unit == "degC":
        return value
    return convert(value, unit, "degC").quantize(_THOUSANDTH)


def gauge_may_be_read(
    load: PressLoad,
    gauge: Gauge | None,
    calibration: Calibration | None,
    at: dt.datetime,
    rule: str,
) -> list[Finding]:
    """Say what speaks against the gauge; `rule` is the shop's for unfit ones."""
    if gauge is None:
        return []
    findings = []
    if dimension(gauge.unit) != shown_by(load.press):
        sentence = (
            f"Gauge {gauge.number} reads {gauge.unit}, not what {load.press} shows."
        )
        findings.append(Finding(sentence, "gauge"))
    make = warning if rule == Shop.OverdueGauge.FLAG else Finding
    unfit = gauge_fit(gauge, localdate(at), calibration)
    return findings + [make(f.sentence, "gauge") for f in unfit]


def lines_in_words(bad: Iterable[tuple[int, str]], field: str) -> list[Finding]:
    """Name every bad line by its number, those with one reason together."""
    by_reason: defaultdict[str, list[int]] = defaultdict(list)
    for number, reason in bad:
        by_reason[reason].append(number)
    return [
        Finding(f"{_numbered(numbers)}: {reason}", field)
        for reason, numbers in by_reason.items()
    ]


def _numbered(numbers: Sequence[int]) -> str:
    runs = []
    for _, run in groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0]):
        members = [number for _, number in run]
        last = f" to {members[-1]}" if len(members) > 1 else ""
        runs.append(f"{members[0]}{last}")
    return f"Line{'s' if len(numbers) > 1 else ''} {', '.join(runs)}"
