"""The one loader of provenance: for one thing or for many, by as many queries."""

from collections import defaultdict
from collections.abc import Collection, Iterable
from typing import Any, TypeVar

from django.db.models import Model, Q, QuerySet

from records.models import (
    Blank,
    Board,
    Coupon,
    JointSpread,
    Lamination,
    LoadedBlank,
    Lot,
    MaterialUse,
    Mix,
    PressLoad,
    Propeller,
    RouteRevision,
    Station,
)
from records.queries.provenance.made_of import Key, Provenance
from records.queries.routes.revisions import newest_in_use

M = TypeVar("M", bound=Model)
Grouped = dict[int, list[M]]
_MIX = (
    *("sheet__adhesive", "sheet__hardener"),
    *("resin_lot__material", "resin_lot__supplier"),
    *("hardener_lot__material", "hardener_lot__supplier"),
)


def provenance_of(thing: Model, route: RouteRevision | None = None) -> Provenance:
    """Gather what a thing was made of, in a number of queries that does not grow.

    `route` is the plan to read a lot, a board or a loose lamination by; without it,
    the newest revision of the first route in use.
    """
    if isinstance(thing, Propeller):
        return provenances([thing])["propeller", thing.pk]
    if isinstance(thing, Blank):
        return provenances([thing])["blank", thing.pk]
    if isinstance(thing, Lamination) and (blank := _lies_in(thing)):
        return provenance_of(blank)
    if isinstance(thing, Lot | Board | Lamination):
        return _of_timber(thing, route)
    return _of_glue_or_load(thing)


def provenances(things: Iterable[Blank | Propeller | None]) -> dict[Key, Provenance]:
    """Gather what many blanks and propellers were made of, by kind and key.

    As many queries for a thousand as for one.
    """
    wanted = [thing for thing in things if thing is not None]
    propellers = _propellers([t.pk for t in wanted if isinstance(t, Propeller)])
    blanks = {p.blank_id for p in propellers.values()}
    loose = {t.pk for t in wanted if isinstance(t, Blank)}
    parts = _Parts(blanks | loose, propellers)
    return {
        **{("blank", pk): parts.of(pk) for pk in loose},
        **{("propeller", pk): parts.of(p.blank_id, p) for pk, p in propellers.items()},
    }


class _Parts:
    """Everything that some blanks and propellers were made of, read once."""

    def __init__(self, blanks: Collection[int], propellers: dict[int, Propeller]):
        self.blanks = Blank.objects.with_related().in_bulk(blanks)
        self.laminations = _laminations(blanks)
        self.voided = _voided(self.laminations)
        self.loaded = _grouped(
            LoadedBlank.objects.filter(blank__in=blanks)
            .select_related("load__press")
            .order_by("load__on_at", "pk"),
            "blank_id",
        )
        self.spreads = _spreads(blanks)
        self.on_blank, self.on_propeller = _uses(blanks, propellers)
        self.coupons = self._with_mixes()
        designs = {p.revision_id for p in propellers.values()}
        designs |= {blank.revision_id for blank in self.blanks.values()}
        self.stations = _grouped(
            Station.objects.filter(revision__in=designs).order_by("radius_mm", "pk"),
            "revision_id",
        )

    def of(self, pk: int, propeller: Propeller | None = None) -> Provenance:
        """Put together what one blank, or a propeller made of it, was made of."""
        blank = self.blanks[pk]
        later = self.on_propeller.get(propeller.pk, []) if propeller else []
        if propeller is not None:
            propeller.blank = blank
        made = Provenance(
            routes=[blank.route],
            propeller=propeller,
            blank=blank,
            laminations=self.laminations.get(pk, []),
            spreads=self.spreads.get(pk, []),
            loaded=self.loaded.get(pk, []),
            uses=[*self.on_blank.get(pk, []), *later],
            stations=self.stations.get((propeller or blank).revision_id, []),
        )
        made.voided = [v for b in made.boards for v in self.voided.get(b.pk, [])]
        made.coupons = [c for m in made.mixes for c in self.coupons.get(m.pk, [])]
        return made

    def _with_mixes(self) -> Grouped[Coupon]:
        """Give every joint and use its mix, each mix once; and find their coupons."""
        groups = (self.spreads, self.on_blank, self.on_propeller)
        rows: list[Any] = [r for group in groups for of in group.values() for r in of]
        keys = {row.mix_id for row in rows if row.mix_id is not None}
        mixes = Mix.objects.select_related(*_MIX).in_bulk(keys)
        for row in rows:
            if row.mix_id is not None:
                row.mix = mixes[row.mix_id]
        coupons = Coupon.objects.filter(mix__in=keys).prefetch_related("tests")
        listed = list(coupons.order_by("made_at", "pk"))
        for coupon in listed:
            coupon.mix = mixes[coupon.mix_id]
        return _grouped(listed, "mix_id")


def _propellers(keys: Collection[int]) -> dict[int, Propeller]:
    return Propeller.objects.select_related("revision__design").in_bulk(keys)


def _laminations(blanks: Collection[int]) -> Grouped[Lamination]:
    laid = Lamination.objects.filter(blank__in=blanks, state=Lamination.State.GOOD)
    rows = list(laid.order_by("position", "pk"))
    wood = Board.objects.select_related("lot__material", "lot__supplier")
    boards = wood.in_bulk({row.board_id for row in rows})
    for row in rows:
        row.board = boards[row.board_id]
    return _grouped(rows, "blank_id")


def _voided(laminations: Grouped[Lamination]) -> Grouped[Lamination]:
    boards = {row.board_id: row.board for rows in laminations.values() for row in rows}
    void = Lamination.objects.filter(
        board__in=boards, state=Lamination.State.VOID
    ).order_by("number", "pk")
    rows = list(void)
    for row in rows:
        row.board = boards[row.board_id]
    return _grouped(rows, "board_id")


def _spreads(blanks: Collection[int]) -> Grouped[JointSpread]:
    standing = JointSpread.objects.standing().filter(blank__in=blanks)
    rows = standing.select_related("written_by").order_by("joint", "spread_at", "pk")
    return _grouped(rows, "blank_id")


def _uses(
    blanks: Collection[int], propellers: Collection[int]
) -> tuple[Grouped[MaterialUse], Grouped[MaterialUse]]:
    put_on = MaterialUse.objects.filter(
        Q(blank__in=blanks) | Q(propeller__in=list(propellers))
    ).select_related("stage", "written_by", "lot__material", "lot__supplier")
    rows = list(put_on.order_by("happened_at", "pk"))
    return (
        _grouped([row for row in rows if row.blank_id], "blank_id"),
        _grouped([row for row in rows if row.propeller_id], "propeller_id"),
    )


def _lies_in(thing: Lamination) -> Blank | None:
    return thing.blank if thing.state == Lamination.State.GOOD else None


def _of_timber(
    thing: Lot | Board | Lamination, route: RouteRevision | None
) -> Provenance:
    plan = [route] if route is not None else newest_in_use()[:1]
    wood = Board.objects.select_related("lot__material", "lot__supplier")
    if isinstance(thing, Lot):
        return Provenance(plan, given=[thing])
    if isinstance(thing, Board):
        return Provenance(plan, given=[wood.get(pk=thing.pk)])
    lamination = Lamination.objects.get(pk=thing.pk)
    lamination.board = wood.get(pk=lamination.board_id)
    return Provenance(plan, laminations=[lamination])


def _of_glue_or_load(thing: Model) -> Provenance:
    if isinstance(thing, PressLoad):
        load = PressLoad.objects.select_related("press").get(pk=thing.pk)
        blanks = Blank.objects.filter(loaded__load=load)
        return Provenance(_routes_of(blanks), given=[load])
    mix_id = thing.mix_id if isinstance(thing, Coupon) else thing.pk
    mix = Mix.objects.select_related(*_MIX).get(pk=mix_id)
    blanks = Blank.objects.filter(spreads__mix=mix, spreads__corrected_by__isnull=True)
    coupons = [thing] if isinstance(thing, Coupon) else []
    return Provenance(_routes_of(blanks), coupons=coupons, given=[mix])


def _routes_of(blanks: QuerySet[Blank]) -> list[RouteRevision]:
    used = RouteRevision.objects.filter(pk__in=blanks.order_by().values("route"))
    return list(used.select_related("route").order_by("pk")) or newest_in_use()


def _grouped(rows: Iterable[M], column: str) -> Grouped[M]:
    groups: defaultdict[int, list[M]] = defaultdict(list)
    for row in rows:
        groups[getattr(row, column)].append(row)
    return groups
