"""What a deviation's form starts with, when a reading or a thing opens it."""

import re
from typing import Any, Final
from urllib.parse import urlencode

from django.db.models import Model
from django.http import QueryDict
from django.urls import reverse

from records.models import Reading
from records.queries.subjects import called, find
from records.spelling.moments import when
from records.spelling.quantities import in_unit, percent
from records.spelling.readings import figure_of, limit_of, place_of, uncertainty

_KEY: Final = re.compile(r"[0-9]{1,18}")


def asked_about(given: QueryDict) -> tuple[Model | None, Reading | None]:
    """Find the thing and the reading that a link names; nothing where it is wrong."""
    key = given.get("reading", "")
    if _KEY.fullmatch(key):
        reading = Reading.objects.with_related().filter(pk=int(key)).first()
        if reading is not None:
            return reading.subject, reading
    return find(given.get("kind", ""), given.get("number", "")), None


def from_reading(reading: Reading) -> dict[str, Any]:
    """Fill the form from a reading: what was required, and what it showed."""
    characteristic = reading.characteristic
    return {
        "title": f"{characteristic.name} {reading.get_verdict_display()}"[:120],
        "things": thing_text(reading.subject, reading.joint),
        "required": _required(reading),
        "found": _found(reading),
        "stage": characteristic.stage,
        "happened_at": reading.happened_at,
        "reading": reading.pk,
    }


def thing_text(thing: Model, joint: int | None = None) -> str:
    """Spell a thing as the form takes it: "blank K0007 joint 3"."""
    name = called(thing).removeprefix("press ")
    return f"{name} joint {joint}" if joint else name


def open_page(reading: Reading) -> str:
    """Give the path where a deviation about a reading is opened."""
    return f"{reverse('deviations:open')}?{urlencode({'reading': reading.pk})}"


def _required(reading: Reading) -> str:
    limits = limit_of(reading) or "no limit stored"
    source = f" ({reading.limit_source})" if reading.limit_source else ""
    return f"{reading.characteristic.name}: {limits}{source}."


def _found(reading: Reading) -> str:
    where = place_of(reading)
    shown = figure_of(reading) + (f", {where}" if where else "")
    parts = [f"{shown}, read {when(reading.happened_at)} by {reading.written_by}."]
    if reading.judged is not None and reading.characteristic.computed:
        parts.append(f"Judged: {in_unit(reading.judged, reading.judged_unit)}.")
    if reading.gauge:
        parts.append(f"Gauge {reading.gauge}.")
    if reading.standard_uncertainty is not None:
        size = uncertainty(reading.standard_uncertainty, reading.judged_unit)
        parts.append(f"Standard uncertainty {size}.")
    if reading.probability is not None:
        parts.append(f"Probability of conformity {percent(reading.probability)}.")
    if reading.flags:
        parts.append(f"Flagged: {reading.flags}")
    return " ".join(parts)
