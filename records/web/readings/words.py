"""How a reading, its limit and its rule are spelled on a page."""

import datetime as dt

from django.db.models import Model

from records.models import Characteristic, PressLoad, Reading, Station
from records.queries.provenance.made_of import Provenance
from records.rules.readings.draft import GLUE_LINE
from records.rules.readings.limits import limit_for, load_limit
from records.spelling.readings import uncertainty

Kind = Characteristic.Kind
MOST_SHOWN = 0.999


def hint_for(
    characteristic: Characteristic,
    thing: Model,
    provenance: Provenance,
    *,
    station: Station | None,
    moment: dt.datetime,
) -> str:
    """Say beside the field which limit will apply, whence, and how it is read."""
    sentences = [
        _limit_hint(characteristic, thing, provenance, station, moment),
        characteristic.how,
    ]
    return " ".join(s if s.endswith(".") else f"{s}." for s in sentences if s)


def _limit_hint(
    characteristic: Characteristic,
    thing: Model,
    provenance: Provenance,
    station: Station | None,
    moment: dt.datetime,
) -> str:
    if characteristic.kind != Kind.MEASURED:
        return "" if characteristic.kind == Kind.NOTE else "Yes is as required"
    if characteristic.nominal and station is None:
        return "The drawing gives the limit at each station"
    if isinstance(thing, PressLoad) and characteristic.computed == GLUE_LINE:
        limit = load_limit(thing)
        return f"At the glue line {limit.words}, by the {limit.source}"
    in_force = limit_for(characteristic, provenance.design, station, moment)
    if in_force is None:
        return "No limit is set"
    return f"Limit {in_force.words}: {in_force.source}"


def rule_in_words(reading: Reading) -> str:
    """Say by which rule a reading was judged, and how sure the verdict is."""
    words = f"by the {reading.rule} rule"
    size, chance = reading.standard_uncertainty, reading.probability
    if size is None:
        return f"{words}, no uncertainty known"
    words += f", standard uncertainty {uncertainty(size, reading.judged_unit)}"
    return words if chance is None else f"{words}; {_likely(chance)}"


def _likely(chance: float) -> str:
    if chance > MOST_SHOWN:
        return f"within the limit with more than {MOST_SHOWN:.1%} probability"
    if chance < 1 - MOST_SHOWN:
        return f"within the limit with less than {1 - MOST_SHOWN:.1%} probability"
    return f"within the limit with {chance:.1%} probability"
