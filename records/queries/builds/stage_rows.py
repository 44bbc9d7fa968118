"""All rows of a chain, read once and dealt out to its stages."""

from collections import defaultdict
from collections.abc import Iterable
from typing import Final, TypeVar

from django.db.models import Model, QuerySet

from records.models import Characteristic, Reading, SignOff, Stage, StageEvent
from records.models.routes import READ_ON
from records.models.subjects import MATERIAL_KINDS
from records.queries.builds.stage_state import StageState
from records.queries.builds.staleness import (
    Repeat,
    changes_of,
    designations_of,
    repeats_for,
    why_stale,
)
from records.queries.deviations import concessions
from records.queries.provenance.made_of import Key, Provenance
from records.queries.signoffs.evidence import evidence_of
from records.queries.subjects import about

R = TypeVar("R", Reading, SignOff, StageEvent)
Dealt = dict[tuple[str, Key], list[Reading]]
COLUMNS: Final = [(kind, f"{kind}_id") for kind in MATERIAL_KINDS]
SCOPES: Final = ("lot", "board", "blank", "propeller")


class Rows:
    """All rows of a chain, read once and dealt out to its stages."""

    def __init__(self, provenance: Provenance, stages: Iterable[Stage]) -> None:
        self.provenance = provenance
        self.evidence = evidence_of(provenance)
        self.changes = changes_of(provenance)
        self.designations = designations_of(provenance)
        self.keys = provenance.keys()
        every = _readings(provenance, stages)
        gone = {r.corrects_id for r in every}
        readings = [r for r in every if r.pk not in gone and not r.is_withdrawn]
        self.replaced = _dealt(set(every) - set(readings))
        named = concessions.named_subjects(self.keys, readings)
        self.repeats = repeats_for(named)
        accepted = concessions.accepted_subjects(named)
        self.accepted = concessions.accepted_readings(accepted)
        self.evidence.accepted = accepted
        self.readings: Dealt = _dealt(readings)
        self.changing = _changing(self.readings)
        self.signoffs = _dealt(_signoffs(provenance))
        self.events = _dealt(_events(provenance))

    def state(self, stage: Stage, subject: Model) -> StageState:
        """Deal out what belongs to one stage of one thing."""
        kind = stage.scope
        owned = self._owned(kind, subject)
        readings = self._readings(stage, owned, self.readings)
        concerning = [r for r in self.repeats if r.about & self._family(kind, subject)]
        return StageState(
            stage=stage,
            kind=kind,
            subject=subject,
            provenance=self.provenance,
            evidence=self.evidence,
            readings=readings,
            replaced=self._readings(stage, owned, self.replaced),
            stale=self._stale(stage, readings, owned, concerning),
            repeats=[r.disposition for r in concerning if r.code == stage.code],
            accepted=frozenset(self.accepted & {r.pk for r in readings}),
            events=self.events.get((stage.code, (kind, subject.pk)), []),
            signoffs=self.signoffs.get((stage.code, (kind, subject.pk)), []),
        )

    def _owned(self, kind: str, subject: Model) -> set[Key]:
        """Kind and key of all that the readings of such a stage are taken on."""
        inner = [k for k in READ_ON[kind] if k != kind]
        keys = {(k, thing.pk) for k in inner for thing in self.provenance.things(k)}
        return keys | {(kind, subject.pk)}

    def _family(self, kind: str, subject: Model) -> set[Key]:
        """Kind and key of a thing, and of all that it was made of."""
        if kind == "lot":
            return {("lot", subject.pk)}
        if kind == "board":
            lots = {b.lot_id for b in self.provenance.boards if b.pk == subject.pk}
            return {("board", subject.pk), *(("lot", pk) for pk in lots)}
        if kind == "blank":
            return {key for key in self.keys if key[0] != "propeller"}
        return self.keys

    def _readings(self, stage: Stage, owned: set[Key], dealt: Dealt) -> list[Reading]:
        readings = [r for key in owned for r in dealt.get((stage.code, key), [])]
        return sorted(readings, key=lambda r: (r.happened_at, r.pk))

    def _stale(
        self,
        stage: Stage,
        readings: list[Reading],
        owned: set[Key],
        repeats: list[Repeat],
    ) -> dict[int, str]:
        others: list[Reading] = []
        if stage.goes_stale:
            others = [r for key in owned for r in self.changing.get(key, [])]
        changes = self.changes if stage.scope == Stage.Scope.PROPELLER else []
        made = self.designations
        if not (others or changes or repeats or made):
            return {}
        reasons = {r.pk: why_stale(r, changes, others, repeats, made) for r in readings}
        return {pk: why for pk, why in reasons.items() if why}


def _ids(provenance: Provenance, kinds: Iterable[str]) -> dict[str, Iterable[int]]:
    return {kind: [t.pk for t in provenance.things(kind)] for kind in kinds}


def _readings(provenance: Provenance, stages: Iterable[Stage]) -> list[Reading]:
    """List the readings of a chain; what the plan asks for is not read twice."""
    readings = list(
        Reading.objects.filter(about(_ids(provenance, MATERIAL_KINDS)))
        .prefetch_related("station", "gauge", "written_by", "limit")
        .order_by("happened_at", "pk")
    )
    by_key = {c.pk: c for stage in stages for c in stage.characteristics.all()}
    other = {r.characteristic_id for r in readings} - by_key.keys()
    if other:
        rows = Characteristic.objects.filter(pk__in=other).select_related("stage")
        by_key |= {c.pk: c for c in rows}
    for reading in readings:
        reading.characteristic = by_key[reading.characteristic_id]
    return readings


def _signoffs(provenance: Provenance) -> QuerySet[SignOff]:
    return (
        SignOff.objects.filter(about(_ids(provenance, SCOPES)))
        .select_related("stage", "written_by")
        .order_by("happened_at", "pk")
    )


def _events(provenance: Provenance) -> QuerySet[StageEvent]:
    return (
        StageEvent.objects.filter(about(_ids(provenance, ("blank", "propeller"))))
        .select_related("stage", "written_by")
        .order_by("happened_at", "pk")
    )


def _dealt(rows: Iterable[R]) -> dict[tuple[str, Key], list[R]]:
    keys: defaultdict[tuple[str, Key], list[R]] = defaultdict(list)
    for row in rows:
        stage, columns = _stage(row), vars(row)
        for kind, column in COLUMNS:
            key = columns.get(column)
            if key is not None:
                keys[stage.code, (kind, key)].append(row)
    return keys


def _changing(dealt: Dealt) -> dict[Key, list[Reading]]:
    """Keep the readings that stand for work on the part: others go stale by them."""
    changing: defaultdict[Key, list[Reading]] = defaultdict(list)
    for (_, key), readings in dealt.items():
        changing[key] += [r for r in readings if r.characteristic.changes_material]
    return changing


def _stage(row: Reading | SignOff | StageEvent) -> Stage:
    return row.characteristic.stage if isinstance(row, Reading) else row.stage
