"""What a gauge found out of tolerance touches: which readings, and of which parts."""

from collections import defaultdict
from dataclasses import dataclass, field
from decimal import Decimal

from django.db.models import Model, Q

from records.engineering.gauge_error import Effect, rejudge
from records.engineering.units import convert_difference, dimension, parse_number
from records.models import Calibration, Characteristic, PressLoad, PressSample, Reading
from records.queries.gauges.spans import Span, span_before
from records.queries.reach.destinations import Destination, destinations
from records.queries.reach.material import leads_to

Thing = tuple[str, int]
_WORST = (Effect.WOULD_FAIL, Effect.MARGINAL, Effect.UNAFFECTED)


@dataclass(frozen=True, slots=True)
class JudgedAgain:
    """One reading, or one press load's samples, judged again.

    `effect` is None where arithmetic can't tell: no limit was stored, or the gauge's
    unit says nothing about the figure judged. `corrected` is in `unit`.
    """

    thing: Model
    key: Thing
    effect: Effect | None
    reading: Reading | None = None
    corrected: Decimal | None = None
    unit: str = ""

    @property
    def affected(self) -> bool:
        """Tell whether the verdict is in doubt."""
        return self.effect in (Effect.MARGINAL, Effect.WOULD_FAIL)


@dataclass(frozen=True)
class Impact:
    """All that a calibration puts in doubt; the verdicts of the day stay as they are.

    `reached` gives, for each thing affected, the propellers it is or went into.
    """

    calibration: Calibration
    span: Span
    lines: list[JudgedAgain]
    reached: dict[Thing, list[Destination]] = field(default_factory=dict)

    @property
    def affected(self) -> list[JudgedAgain]:
        """Give the lines in doubt, the worst first."""
        doubtful = [line for line in self.lines if line.affected]
        return sorted(doubtful, key=lambda x: _WORST.index(x.effect or _WORST[-1]))

    def count(self, effect: Effect | None) -> int:
        """Count the lines of one class; None counts those that were not judged."""
        return sum(line.effect == effect for line in self.lines)

    @property
    def serials(self) -> list[Destination]:
        """Give the propellers that a doubtful reading reaches, each once."""
        by_key = {d.pk: d for group in self.reached.values() for d in group}
        return sorted(by_key.values(), key=lambda d: (d.serial, d.pk))


def impact_of(calibration: Calibration) -> Impact:
    """Judge again all that a gauge read since its last good calibration.

    A constant number of queries. What was read is corrected by the greatest error as
    found, with its sign, against the limit stored with the reading.
    """
    span = span_before(calibration)
    taken = Reading.objects.standing().filter(
        _during("happened_at", span), gauge=calibration.gauge_id
    )
    lines = [_judged_again(reading, calibration) for reading in taken.with_related()]
    lines += _loads_again(calibration, span)
    doubtful = {line.key for line in lines if line.affected}
    return Impact(calibration, span, lines, _reached(doubtful))


def _during(moment: str, span: Span) -> Q:
    start, until = span
    during = Q(**{f"{moment}__lte": until})
    return during & Q(**{f"{moment}__gte": start}) if start else during


def _judged_again(reading: Reading, calibration: Calibration) -> JudgedAgain:
    kind = reading.subject_kind
    key = (kind, getattr(reading, f"{kind}_id"))
    limited = reading.low is not None or reading.high is not None
    judged = reading.judged if limited else None
    scale = None if judged is None else _scale(reading, judged, calibration)
    if judged is None or scale is None:
        return JudgedAgain(thing=reading.subject, key=key, effect=None, reading=reading)
    again = rejudge(
        judged,
        reading.low,
        reading.high,
        error=calibration.as_found_error * scale,
        expanded_uncertainty=calibration.expanded_uncertainty * abs(scale),
    )
    unit = reading.judged_unit
    return JudgedAgain(
        reading.subject, key, again.effect, reading, again.corrected, unit
    )


def _scale(
    reading: Reading, judged: Decimal, calibration: Calibration
) -> Decimal | None:
    """Give what one unit of the gauge's error is in the figure judged.

    Pressure at the glue line is in proportion to what the gauge shows. None where the
    units do not fit.
    """
    if dimension(reading.unit) != dimension(calibration.unit):
        return None
    if reading.characteristic.computed == Characteristic.Computed.GLUE_LINE_PRESSURE:
        shown = parse_number(reading.entered)
        error = convert_difference(Decimal(1), calibration.unit, reading.unit)
        return error * judged / shown if shown else None
    if dimension(reading.judged_unit) != dimension(calibration.unit):
        return None
    return convert_difference(Decimal(1), calibration.unit, reading.judged_unit)


def _loads_again(calibration: Calibration, span: Span) -> list[JudgedAgain]:
    """Judge each press load by the worst of its samples."""
    samples = (
        PressSample.objects.standing()
        .filter(_during("at", span), gauge=calibration.gauge_id)
        .select_related("load")
    )
    effects_on: defaultdict[PressLoad, list[Effect | None]] = defaultdict(list)
    for sample in samples.order_by("load", "at"):
        effects_on[sample.load].append(_sample_again(sample, calibration))
    return [
        JudgedAgain(load, ("load", load.pk), _worst(effects))
        for load, effects in effects_on.items()
    ]


def _sample_again(sample: PressSample, calibration: Calibration) -> Effect | None:
    shown = parse_number(sample.entered)
    if not shown or dimension(sample.unit) != dimension(calibration.unit):
        return None
    value = Decimal(repr(sample.glue_line_pa))
    scale = convert_difference(Decimal(1), calibration.unit, sample.unit)
    scale *= value / shown
    return rejudge(
        value,
        sample.load.pressure_low_pa,
        sample.load.pressure_high_pa,
        error=calibration.as_found_error * scale,
        expanded_uncertainty=calibration.expanded_uncertainty * abs(scale),
    ).effect


def _worst(effects: list[Effect | None]) -> Effect | None:
    return next((effect for effect in _WORST if effect in effects), None)


def _reached(things: set[Thing]) -> dict[Thing, list[Destination]]:
    ids: defaultdict[str, list[int]] = defaultdict(list)
    for kind, pk in things:
        ids[kind].append(pk)
    links = leads_to(ids, "propeller")
    if not links:
        return {}
    places = {d.pk: d for d in destinations(Q(pk__in={pk for _, pk in links}))}
    places_of: defaultdict[Thing, list[Destination]] = defaultdict(list)
    for thing, pk in sorted(links):
        places_of[thing].append(places[pk])
    return dict(places_of)
