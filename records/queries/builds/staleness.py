"""Which readings went stale: by work on the part, by a rework, by another design."""

import datetime as dt
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from records.models import (
    Characteristic,
    Designation,
    Disposition,
    MaterialChange,
    Reading,
    StageToRepeat,
)
from records.models.subjects import ANY_KINDS
from records.queries.provenance.made_of import Key, Provenance

Moment = tuple[dt.datetime, dt.datetime]


@dataclass(frozen=True, slots=True)
class Repeat:
    """A stage that a rework decided to repeat, and what the decision is about."""

    disposition: int
    deviation: str
    code: str
    at: Moment
    about: frozenset[Key]


def changes_of(provenance: Provenance) -> list[MaterialChange]:
    """List the material removed from or added to the propeller, oldest first."""
    if provenance.propeller is None:
        return []
    changes = MaterialChange.objects.filter(propeller=provenance.propeller)
    return list(changes.order_by("happened_at", "pk"))


def designations_of(provenance: Provenance) -> list[Designation]:
    """List when the propeller was made another design than it was, oldest first."""
    if provenance.propeller is None:
        return []
    designations = Designation.objects.filter(propeller=provenance.propeller)
    return list(
        designations.select_related("after__design").order_by("happened_at", "pk")
    )


def repeats_for(subjects: Collection[int]) -> list[Repeat]:
    """List the stages to repeat, of reworks decided about these subjects by key."""
    if not subjects:
        return []
    rows = (
        StageToRepeat.objects.filter(
            disposition__kind=Disposition.Kind.REWORK,
            disposition__disposed__subject__in=subjects,
        )
        .select_related("stage", "disposition__deviation")
        .prefetch_related("disposition__disposed__subject")
        .order_by("disposition__happened_at", "pk")
        .distinct()
    )
    return [_repeat(row) for row in rows]


def why_stale(
    reading: Reading,
    changes: Iterable[MaterialChange],
    readings: Iterable[Reading],
    repeats: Iterable[Repeat],
    designations: Iterable[Designation] = (),
) -> str:
    """Say why a reading no longer counts; "" while it does.

    `readings` are the standing readings of the same thing, `repeats` those that
    concern it. What happened at the same moment counts by the order of writing.
    """
    stage, at = reading.characteristic.stage, _moment(reading)
    for repeat in repeats:
        if repeat.code == stage.code and at < repeat.at:
            return f"deviation {repeat.deviation} asks to repeat {stage.name}"
    made = _made_another(reading, designations)
    if made or not stage.goes_stale:
        return made
    for change in changes:
        if at < _moment(change):
            return f"{change.get_what_display()} afterwards ({change.place})"
    for other in readings:
        characteristic = other.characteristic
        earlier_stage = characteristic.stage.order <= stage.order
        if characteristic.changes_material and earlier_stage and at < _moment(other):
            return f"{characteristic.name} was done afterwards"
    return ""


def _made_another(reading: Reading, designations: Iterable[Designation]) -> str:
    if reading.characteristic.purpose != Characteristic.Purpose.MARKING:
        return ""
    for made in designations:
        if _moment(reading) < _moment(made):
            return f"it was made {made.after.design} {made.after} afterwards"
    return ""


def _moment(row: Reading | MaterialChange | Disposition | Designation) -> Moment:
    return row.happened_at, row.written_at


def _repeat(row: StageToRepeat) -> Repeat:
    subjects = [one.subject for one in row.disposition.disposed.all()]
    return Repeat(
        disposition=row.disposition_id,
        deviation=row.disposition.deviation.number,
        code=row.stage.code,
        at=_moment(row.disposition),
        about=frozenset(
            (kind, key)
            for subject in subjects
            for kind in ANY_KINDS
            if (key := getattr(subject, f"{kind}_id")) is not None
        ),
    )
