"""Differences between blades or points, written in the entry of their readings."""

from collections.abc import Sequence

from django.db.models import Model

from records.models import Characteristic, Reading
from records.queries.readings.context import ReadingContext, context_for
from records.queries.subjects import number_of
from records.rules.readings.ranges import (
    Group,
    groups_of,
    ranges_of,
    row_of,
    without_readings,
)
from records.services.ledger import Act, Entry
from records.services.refusal import refuse


def add_ranges(
    entry: Entry,
    context: ReadingContext,
    readings: Sequence[Reading],
    *,
    keep_limit: bool = False,
) -> list[Reading]:
    """Compute every difference that some new readings are part of.

    Only within an open entry. `keep_limit` is for corrections: see `row_of`.
    """
    added = []
    for stage in {r.characteristic.stage for r in readings}:
        here = [r for r in readings if r.characteristic.stage == stage]
        characteristics = _characteristics(context, here[0].characteristic)
        for difference in ranges_of(
            characteristics, {r.characteristic.code for r in here}
        ):
            groups = groups_of(difference, context, characteristics)
            changed = [g for g in groups if _concerns(here, g)]
            rows = [row_of(g, context, keep_limit=keep_limit) for g in changed]
            if any(r.corrects_id for r in here):
                rows += map(withdrawn, without_readings(difference, context, groups))
            added += [entry.add(row) for row in rows]
    context.take(added)
    return added


def compute_range(
    *, act: Act, subject: Model, characteristic: Characteristic
) -> list[Reading]:
    """Compute a difference from readings taken before, e.g. before a stack was laid.

    Raises `Refusal` while too few of its readings are there.
    """
    with Entry(act, "compute difference") as entry:
        entry.subject = number_of(subject)
        if not characteristic.is_range:
            raise refuse(f"{characteristic} is read, not computed.", "characteristic")
        route = characteristic.stage.revision
        context = context_for(subject, [characteristic], route=route)
        characteristics = _characteristics(context, characteristic)
        groups = groups_of(characteristic, context, characteristics)
        mine = [g for g in groups if g.thing == subject]
        if not mine:
            raise refuse(f"Too few readings are there to compute {characteristic}.")
        return [entry.add(row_of(group, context, keep_limit=False)) for group in mine]


def withdrawn(old: Reading, reason: str = "too few readings are left") -> Reading:
    """Make the row that withdraws another."""
    return Reading(
        **{old.subject_kind: old.subject},
        characteristic=old.characteristic,
        blade=old.blade,
        station=old.station,
        joint=old.joint,
        point=old.point,
        happened_at=old.happened_at,
        entered=old.entered,
        unit=old.unit,
        verdict=Reading.Verdict.WITHDRAWN,
        corrects=old,
        reason=reason,
    )


def _concerns(readings: Sequence[Reading], group: Group) -> bool:
    """Tell whether new readings, or what they took the place of, are in a group."""
    return any(r in group.readings or r.corrects_id for r in readings)


def _characteristics(
    context: ReadingContext, characteristic: Characteristic
) -> list[Characteristic]:
    """List what the stage asks for, from what was read before where it is there."""
    for state in context.progress.states:
        if state.stage == characteristic.stage:
            return state.characteristics()
    characteristics = list(characteristic.stage.characteristics.all())
    for one in characteristics:
        one.stage = characteristic.stage
    return characteristics
