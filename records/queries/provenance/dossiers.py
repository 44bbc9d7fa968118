"""Every propeller with all that belongs to it, some at a time."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from django.db.models import Count, Max, Min, Prefetch, QuerySet

from records.models import (
    Attachment,
    ConformityRecord,
    Coupon,
    DeviationSubject,
    JointSpread,
    Lamination,
    LoadedBlank,
    MaterialUse,
    PressSample,
    Propeller,
    Reading,
    SignOff,
)
from records.models.subjects import AboutMaterial
from records.queries.subjects import about

AT_ONCE = 100
Key = tuple[str, int]
A = TypeVar("A", bound=AboutMaterial)


@dataclass(frozen=True, slots=True)
class Pressed:
    """The samples of a press load, in short: how many, lowest and highest [Pa]."""

    samples: int = 0
    lowest_pa: float | None = None
    highest_pa: float | None = None


@dataclass(slots=True)
class Dossier:
    """A propeller with its parts, and everything written about any of them."""

    propeller: Propeller
    laminations: list[Lamination]
    spreads: list[JointSpread]
    loaded: list[LoadedBlank]
    coupons: list[Coupon]
    uses: list[MaterialUse]
    readings: list[Reading] = field(default_factory=list)
    signoffs: list[SignOff] = field(default_factory=list)
    deviations: list[DeviationSubject] = field(default_factory=list)
    attachments: list[Attachment] = field(default_factory=list)
    pressed: Mapping[int, Pressed] = field(default_factory=dict)

    @property
    def papers(self) -> list[ConformityRecord]:
        """The conformity records, the last issued first."""
        return list(self.propeller.conformity_records.all())

    def parts(self) -> set[Key]:
        """Give kind and key of the propeller and of all that it was made of."""
        boards = [lamination.board for lamination in self.laminations]
        mixes = [spread.mix for spread in self.spreads]
        keys = {("propeller", self.propeller.pk), ("blank", self.propeller.blank_id)}
        keys |= {("lamination", lamination.pk) for lamination in self.laminations}
        keys |= {("board", board.pk) for board in boards}
        keys |= {("lot", board.lot_id) for board in boards}
        keys |= {("mix", mix.pk) for mix in mixes}
        keys |= {("lot", mix.resin_lot_id) for mix in mixes}
        keys |= {("lot", m.hardener_lot_id) for m in mixes if m.hardener_lot_id}
        keys |= {("load", row.load_id) for row in self.loaded}
        return keys | {("coupon", coupon.pk) for coupon in self.coupons}


def dossiers() -> Iterator[Dossier]:
    """Stream every propeller, by key: a constant number of queries a hundred."""
    last = 0
    while some := list(_propellers().filter(pk__gt=last)[:AT_ONCE]):
        batch = [_dossier(propeller) for propeller in some]
        _fill(batch)
        yield from batch
        last = some[-1].pk


def _dossier(propeller: Propeller) -> Dossier:
    blank = propeller.blank
    spreads = list(blank.spreads.all())
    mixes = {spread.mix_id: spread.mix for spread in spreads}
    return Dossier(
        propeller=propeller,
        laminations=list(blank.laminations.all()),
        spreads=spreads,
        loaded=list(blank.loaded.all()),
        coupons=[coupon for mix in mixes.values() for coupon in mix.coupons.all()],
        uses=[*blank.uses.all(), *propeller.uses.all()],
    )


def _fill(batch: list[Dossier]) -> None:
    """Add what was written about the parts of some propellers: five queries."""
    keys = {key for one in batch for key in one.parts()}
    condition = about(_by_kind(keys))
    readings = _by_subject(Reading.objects.with_related().filter(condition))
    signs = SignOff.objects.select_related("stage", "written_by")
    signoffs = _by_subject(signs.filter(condition))
    deviations = _by_subject(_deviations().filter(condition))
    photos = Attachment.objects.select_related("file", "written_by")
    attachments = _by_subject(photos.filter(condition))
    pressed = _pressed(pk for kind, pk in keys if kind == "load")
    for one in batch:
        mine = one.parts()
        one.readings = _of(readings, mine)
        one.signoffs = _of(signoffs, mine)
        one.deviations = _of(deviations, mine)
        one.attachments = _of(attachments, mine)
        one.pressed = pressed


def _by_kind(keys: Iterable[Key]) -> dict[str, list[int]]:
    keys_by_kind: defaultdict[str, list[int]] = defaultdict(list)
    for kind, pk in keys:
        keys_by_kind[kind].append(pk)
    return keys_by_kind


def _by_subject(rows: Iterable[A]) -> dict[Key, list[A]]:
    keys: defaultdict[Key, list[A]] = defaultdict(list)
    for row in rows:
        kind = row.subject_kind
        keys[kind, getattr(row, f"{kind}_id")].append(row)
    return keys


def _of(rows: Mapping[Key, list[A]], keys: Iterable[Key]) -> list[A]:
    """Give the rows about these things, in the order they were written."""
    mine = (row for key in keys for row in rows.get(key, ()))
    return sorted(mine, key=lambda row: row.pk)


def _pressed(loads: Iterable[int]) -> dict[int, Pressed]:
    rows = (
        PressSample.objects.standing()
        .filter(load__in=list(loads))
        .order_by()
        .values_list("load")
        .annotate(Count("pk"), Min("glue_line_pa"), Max("glue_line_pa"))
    )
    return {load: Pressed(*figures) for load, *figures in rows}


def _propellers() -> QuerySet[Propeller]:
    laid = Lamination.objects.with_related().good().order_by("position", "pk")
    return (
        Propeller.objects.with_related()
        .order_by("pk")
        .prefetch_related(
            Prefetch("blank__laminations", laid.select_related("board__lot__supplier")),
            Prefetch("blank__spreads", _spreads()),
            Prefetch("blank__loaded", _loaded()),
            "blank__spreads__mix__coupons__tests",
            Prefetch("blank__uses", _uses()),
            Prefetch("uses", _uses()),
            Prefetch("conformity_records", ConformityRecord.objects.with_related()),
            "designations__before__design",
            "designations__after__design",
            "material_changes",
            "releases",
            "ownerships__owner",
            "service_events",
        )
    )


def _spreads() -> QuerySet[JointSpread]:
    return JointSpread.objects.standing().select_related(
        "mix__sheet__adhesive",
        "mix__sheet__hardener",
        "mix__resin_lot",
        "mix__hardener_lot",
        "written_by",
    )


def _loaded() -> QuerySet[LoadedBlank]:
    return LoadedBlank.objects.select_related("load__press").order_by("load__on_at")


def _uses() -> QuerySet[MaterialUse]:
    return MaterialUse.objects.select_related(
        "lot__material", "mix__sheet__adhesive", "written_by"
    )


def _deviations() -> QuerySet[DeviationSubject]:
    subjects = DeviationSubject.objects.select_related("deviation", "written_by")
    return subjects.prefetch_related("deviation__dispositions")
