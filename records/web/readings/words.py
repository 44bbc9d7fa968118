"""How a reading, its limit and its rule are spelled on a page."""

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Model

from records.models import Characteristic, PressLoad, Reading, Station
from records.queries.provenance.makeup import Makeup
from records.rules.readings.draft import GLUE_LINE
from records.rules.readings.limits import InForce, limit_for, load_limit
from records.templatetags.quantities import both, one, pressure, unit_name

Kind = Characteristic.Kind
PASCAL = "Pa"
MOST_SHOWN = 0.999


@dataclass(frozen=True, slots=True)
class JudgedLine:
    """A figure with its verdict, large."""

    name: str
    figure: str
    verdict: str
    word: str
    detail: str


def line_of(reading: Reading) -> JudgedLine:
    """Spell a reading large: the figure, its verdict, and what was judged."""
    detail = []
    if reading.characteristic.computed == GLUE_LINE and reading.judged is not None:
        detail.append(f"glue line {pressure(float(reading.judged))}")
    held = sides(stored(reading))
    detail += [f"limit {held}"] if held else []
    return JudgedLine(
        name=", ".join([reading.characteristic.name, *where(reading)]),
        figure=figure(reading),
        verdict="void" if reading.is_withdrawn else reading.verdict,
        word=str(reading.get_verdict_display()),
        detail=", ".join(detail),
    )


def figure(reading: Reading) -> str:
    """Spell a figure as it was entered, with its unit."""
    return f"{reading.entered} {unit_name(reading.unit)}".strip()


def where(reading: Reading) -> list[str]:
    """Spell blade and station, joint and point of a reading."""
    spot = [f"blade {reading.blade}"] if reading.blade else []
    spot += [f"at {reading.station}"] if reading.station else []
    spot += [f"joint {reading.joint}"] if reading.joint else []
    spots = [" ".join(spot)] if spot else []
    return spots + ([reading.point] if reading.point else [])


def stored(reading: Reading) -> InForce:
    """Give the limit that was stored with a reading; without sides if there is none."""
    unit, source = reading.judged_unit, reading.limit_source
    return InForce(reading.low, reading.high, unit, source)


def sides(limit: InForce) -> str:
    """Spell the sides of a limit in both unit systems; pascals as megapascals."""
    low, high = limit.low, limit.high
    if low is not None and high is not None:
        return f"{_side(low, limit.unit)} to {_side(high, limit.unit)}"
    if high is not None:
        return f"at most {_side(high, limit.unit)}"
    return f"at least {_side(low, limit.unit)}" if low is not None else ""


def _side(value: Decimal, unit: str) -> str:
    return pressure(float(value)) if unit == PASCAL else both(value, unit)


def hint_for(
    characteristic: Characteristic,
    thing: Model,
    makeup: Makeup,
    *,
    station: Station | None,
    moment: dt.datetime,
) -> str:
    """Say beside the field which limit will apply, whence, and how it is read."""
    sentences = [
        _limit_hint(characteristic, thing, makeup, station, moment),
        characteristic.how,
    ]
    return " ".join(s if s.endswith(".") else f"{s}." for s in sentences if s)


def _limit_hint(
    characteristic: Characteristic,
    thing: Model,
    makeup: Makeup,
    station: Station | None,
    moment: dt.datetime,
) -> str:
    if characteristic.kind != Kind.MEASURED:
        return "" if characteristic.kind == Kind.NOTE else "Yes is as required"
    if characteristic.nominal and station is None:
        return "The drawing gives the limit at each station"
    if isinstance(thing, PressLoad) and characteristic.computed == GLUE_LINE:
        limit = load_limit(thing)
        return f"At the glue line {sides(limit)}, by the {limit.source}"
    this_limit = limit_for(characteristic, makeup.design, station, moment)
    if this_limit is None:
        return "No limit is set"
    return f"Limit {sides(this_limit)}: {this_limit.source}"


def rule_in_words(reading: Reading) -> str:
    """Say by which rule a reading was judged, and how sure the verdict is."""
    words = f"by the {reading.rule} rule"
    size, chance = reading.standard_uncertainty, reading.probability
    if size is None:
        return f"{words}, no uncertainty known"
    unit = reading.judged_unit
    shown = pressure(size) if unit == PASCAL else one(Decimal(f"{size:.2g}"), unit)
    words += f", standard uncertainty {shown}"
    return words if chance is None else f"{words}; {_likely(chance)}"


def _likely(chance: float) -> str:
    if chance > MOST_SHOWN:
        return f"within the limit with more than {MOST_SHOWN:.1%} probability"
    if chance < 1 - MOST_SHOWN:
        return f"within the limit with less than {1 - MOST_SHOWN:.1%} probability"
    return f"within the limit with {chance:.1%} probability"
