"""Samples of a press load: typed one by one, or read from a logger's file."""

import datetime as dt
from collections.abc import Iterable
from decimal import Decimal

from django.utils.timezone import localdate

from records.engineering.units import parse_number, to_si
from records.models import Gauge, Hold, PressLoad, PressSample, Shop
from records.queries.gauges.register import latest_calibration
from records.queries.pressing.history import press_history
from records.queries.pressing.loads import samples_of
from records.rules.figures import as_sentence
from records.rules.finding import Finding
from records.rules.pressing import samples as rules
from records.rules.pressing.glue_line import glue_line_pressure
from records.rules.pressing.held import load_is_sound, not_held_or_cured
from records.services.holds import hold_row
from records.services.ledger import Act, Entry
from records.services.pressing.logger_file import (
    Log,
    LoggedSample,
    UnreadableLine,
    logged,
    read_log,
)
from records.services.refusal import refuse, refuse_if_blocked

Source = PressSample.Source


def add_sample(
    *,
    act: Act,
    load: PressLoad,
    at: dt.datetime,
    entered: str,
    unit: str,
    temperature_c: Decimal | None = None,
    gauge: Gauge | None = None,
) -> PressSample:
    """Write down what the gauge of a press showed, with the pressure at the glue line.

    `entered` is kept as typed. A dip while the glue cures puts the load on hold.
    """
    with Entry(act, "add press sample") as entry:
        load = _load(entry, load)
        taken = {sample.at for sample in samples_of(load)}
        sample = _typed(load, at, entered, unit, temperature_c)
        refuse_if_blocked(
            rules.time_is_in_load(load, at, act.at) + rules.moment_is_new(at, taken)
        )
        _read_with(sample, gauge)
        sample = entry.add(sample)
        look_again(entry, load)
        return sample


def correct_sample(
    *,
    act: Act,
    sample: PressSample,
    entered: str,
    unit: str,
    reason: str,
    temperature_c: Decimal | None = None,
) -> PressSample:
    """Write a sample anew, with the reason; the old figure stays readable.

    A hold that the old figure caused stays until somebody releases it.
    """
    with Entry(act, "correct press sample") as entry:
        load = _load(entry, sample.load)
        if PressSample.objects.filter(corrects=sample.pk).exists():
            raise refuse("This sample was corrected already. Correct the newer one.")
        if not reason.strip():
            raise refuse("Say why the sample is corrected.", "reason")
        corrected = _typed(load, sample.at, entered, unit, temperature_c)
        corrected.corrects = sample
        corrected.reason = reason
        corrected.gauge = sample.gauge
        corrected.flags = sample.flags
        corrected = entry.add(corrected)
        look_again(entry, load)
        return corrected


def import_samples(
    *,
    act: Act,
    load: PressLoad,
    text: str,
    unit: str,
    temperature_unit: str = "degC",
    gauge: Gauge | None = None,
) -> list[PressSample]:
    """Read a logger's file into a load: all of its lines, or none.

    Raises `Refusal` at "file" that names every bad line by its number.
    """
    with Entry(act, "import press samples") as entry:
        load = _load(entry, load)
        refuse_if_blocked(
            rules.unit_fits_press(load, unit)
            + rules.unit_is_of_temperature(temperature_unit)
        )
        log = _read(text, load)
        refuse_if_blocked(_headings_agree(log, unit, temperature_unit))
        bad = log.bad + list(_bad(log, load, unit, temperature_unit, act.at))
        refuse_if_blocked(rules.lines_in_words(sorted(bad), "file"))
        first = _sample(load, log.lines[0], unit, temperature_unit)
        _read_with(first, gauge)
        samples = [_sample(load, x, unit, temperature_unit) for x in log.lines]
        for sample in samples:
            sample.gauge, sample.flags = gauge, first.flags
        entry.add_many(samples)
        look_again(entry, load)
        return samples


def look_again(entry: Entry, load: PressLoad) -> None:
    """Look at a load with all its samples: flag it once opened, hold it if need be.

    It is put on hold, once, when its pressure fell while the glue cured, never came
    up, or was off too early: the hold reaches every blank in it. What nobody sampled
    is flagged and not held: nobody knows.
    """
    history = press_history(load)
    if load.off_at is not None:
        flags = "\n".join(f.sentence for f in load_is_sound(history))
        if flags != load.opened_flags:
            entry.change(load, opened_flags=flags)
    if not Hold.objects.standing().filter(load=load).exists():
        for reason, since in not_held_or_cured(history)[:1]:
            entry.add(hold_row(load, reason=reason[:200], happened_at=since))


def _load(entry: Entry, load: PressLoad) -> PressLoad:
    entry.subject = load.number
    return PressLoad.objects.with_related().get(pk=load.pk)


def _typed(
    load: PressLoad,
    at: dt.datetime,
    entered: str,
    unit: str,
    temperature_c: Decimal | None,
) -> PressSample:
    try:
        value = parse_number(entered)
    except ValueError as error:
        raise refuse(as_sentence(error), "entered") from error
    refuse_if_blocked(rules.unit_fits_press(load, unit))
    heat = [] if temperature_c is None else [temperature_c]
    refuse_if_blocked(
        rules.pressure_is_possible(load, value, unit)
        + [f for t in heat for f in rules.temperature_is_possible(t, "degC")]
    )
    return PressSample(
        load=load,
        at=at,
        entered=entered.strip(),
        unit=unit,
        glue_line_pa=glue_line_pressure(load, to_si(value, unit)),
        temperature_c=temperature_c,
        source=Source.TYPED,
    )


def _read_with(sample: PressSample, gauge: Gauge | None) -> None:
    """Name the gauge, flagged or refused as the shop has set for unfit ones."""
    if gauge is None:
        return
    calibration = latest_calibration([gauge.pk], localdate(sample.at)).get(gauge.pk)
    rule = Shop.objects.get().overdue_gauge
    findings = refuse_if_blocked(
        rules.gauge_may_be_read(sample.load, gauge, calibration, sample.at, rule)
    )
    sample.gauge = gauge
    sample.flags = " ".join(f.sentence for f in findings)


def _read(text: str, load: PressLoad) -> Log:
    try:
        return read_log(text, load.on_at)
    except UnreadableLine as problem:
        raise refuse(str(problem), "file") from problem


def _headings_agree(log: Log, unit: str, temperature_unit: str) -> list[Finding]:
    """Say where a heading of the file states another unit than was chosen."""
    findings = []
    for name, chosen, field in (
        ("pressure", unit, "unit"),
        ("temperature", temperature_unit, "temperature_unit"),
    ):
        column = log.columns.get(name)
        if column and column.unit and column.unit != chosen:
            sentence = f"The file's heading says {column.unit}; {chosen} was chosen."
            findings.append(Finding(sentence, field))
    return findings


def _bad(
    log: Log, load: PressLoad, unit: str, temperature_unit: str, now: dt.datetime
) -> Iterable[tuple[int, str]]:
    """Name each line that can be read but can't be true."""
    taken = {sample.at for sample in samples_of(load)}
    for line in log.lines:
        findings = rules.time_is_in_load(load, line.at, now)
        findings += rules.moment_is_new(line.at, taken)
        findings += rules.pressure_is_possible(load, logged(line.pressure), unit)
        if line.temperature is not None:
            findings += rules.temperature_is_possible(
                line.temperature, temperature_unit
            )
        yield from ((line.number, finding.sentence) for finding in findings)
        taken.add(line.at)


def _sample(
    load: PressLoad, line: LoggedSample, unit: str, temperature_unit: str
) -> PressSample:
    heat = line.temperature
    return PressSample(
        load=load,
        at=line.at,
        entered=line.pressure,
        unit=unit,
        glue_line_pa=glue_line_pressure(load, to_si(logged(line.pressure), unit)),
        temperature_c=None
        if heat is None
        else rules.in_celsius(heat, temperature_unit),
        source=Source.LOGGER,
    )
