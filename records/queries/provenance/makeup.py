"""What a thing is made of: the chain from its lots up to the thing itself."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, TypeVar

from django.db.models import Model

from records.models import (
    Blank,
    Board,
    Coupon,
    JointSpread,
    Lamination,
    LoadedBlank,
    Lot,
    Mix,
    PressLoad,
    Propeller,
    Revision,
    RouteRevision,
    Station,
)
from records.queries.routes.revisions import newest_in_use

M = TypeVar("M", bound=Model)
Key = tuple[str, int]


@dataclass(slots=True)
class Makeup:
    """A thing with all that it was made of, and the plan it is built by.

    `routes` are the plans it may be read by: one, but for glue or a press load
    that went into blanks of several routes.
    """

    routes: list[RouteRevision]
    propeller: Propeller | None = None
    blank: Blank | None = None
    lots: list[Lot] = field(default_factory=list)
    boards: list[Board] = field(default_factory=list)
    laminations: list[Lamination] = field(default_factory=list)
    spreads: list[JointSpread] = field(default_factory=list)
    mixes: list[Mix] = field(default_factory=list)
    loads: list[PressLoad] = field(default_factory=list)
    loaded: list[LoadedBlank] = field(default_factory=list)
    coupons: list[Coupon] = field(default_factory=list)
    stations: list[Station] = field(default_factory=list)

    @property
    def design(self) -> Revision | None:
        """The design revision it is, or is planned to be."""
        if self.propeller is not None:
            return self.propeller.revision
        return self.blank.revision if self.blank is not None else None

    def things(self, kind: str) -> list[Model]:
        """Give the things of one kind in the chain."""
        if kind in {"propeller", "blank"}:
            one = self.propeller if kind == "propeller" else self.blank
            return [one] if one is not None else []
        several: list[Model] = getattr(self, f"{kind}s" if kind != "mix" else "mixes")
        return several

    def keys(self) -> set[Key]:
        """Give kind and key of everything in the chain, glue lots too."""
        kinds = (
            "propeller",
            "blank",
            "lot",
            "board",
            "lamination",
            "mix",
            "load",
            "coupon",
        )
        keys = {(kind, thing.pk) for kind in kinds for thing in self.things(kind)}
        glue = {m.resin_lot_id for m in self.mixes}
        glue |= {m.hardener_lot_id for m in self.mixes if m.hardener_lot_id}
        return keys | {("lot", pk) for pk in glue}


def makeup_of(thing: Model, route: RouteRevision | None = None) -> Makeup:
    """Gather what a thing is made of, in a number of queries that does not grow.

    `route` is the plan to read a lot, a board or a loose lamination by; without it,
    the newest revision of the first route in use.
    """
    if isinstance(thing, Propeller):
        return _of_propeller(thing)
    if isinstance(thing, Blank):
        return _of_blank(thing.pk)
    if isinstance(thing, Lot | Board | Lamination):
        return _of_timber(thing, route)
    return _of_shared(thing)


def _of_timber(thing: Lot | Board | Lamination, route: RouteRevision | None) -> Makeup:
    if isinstance(thing, Lamination):
        return _of_lamination(thing, route)
    if isinstance(thing, Lot):
        return Makeup(_plan(route), lots=[thing])
    board = Board.objects.select_related("lot").get(pk=thing.pk)
    return Makeup(_plan(route), lots=[board.lot], boards=[board])


def _plan(route: RouteRevision | None) -> list[RouteRevision]:
    return [route] if route is not None else newest_in_use()[:1]


def _of_propeller(propeller: Propeller) -> Makeup:
    whole = Propeller.objects.select_related("revision__design", "blank").get(
        pk=propeller.pk
    )
    makeup = _of_blank(whole.blank_id)
    makeup.propeller = whole
    if whole.revision_id != whole.blank.revision_id:
        makeup.stations = _stations(whole.revision_id)
    return makeup


def _of_blank(pk: int) -> Makeup:
    blank = Blank.objects.select_related("revision__design", "route__route").get(pk=pk)
    laid = Lamination.objects.filter(blank=pk, state=Lamination.State.GOOD)
    laminations = list(laid.select_related("board__lot").order_by("position", "pk"))
    spreads = list(
        JointSpread.objects.filter(blank=pk, corrected_by__isnull=True)
        .select_related("mix", "written_by")
        .order_by("joint", "pk")
    )
    pressed = LoadedBlank.objects.filter(blank=pk).select_related("load__press")
    loaded = list(pressed.order_by("load__on_at", "pk"))
    boards = _each(lamination.board for lamination in laminations)
    mixes = _each(spread.mix for spread in spreads)
    coupons = Coupon.objects.filter(mix__in=mixes).prefetch_related("tests")
    return Makeup(
        [blank.route],
        blank=blank,
        lots=_each(board.lot for board in boards),
        boards=boards,
        laminations=laminations,
        spreads=spreads,
        mixes=mixes,
        loads=[row.load for row in loaded],
        loaded=loaded,
        coupons=list(coupons.order_by("made_at", "pk")),
        stations=_stations(blank.revision_id),
    )


def _stations(revision: int) -> list[Station]:
    return list(Station.objects.filter(revision=revision).order_by("radius_mm", "pk"))


def _of_lamination(thing: Lamination, route: RouteRevision | None) -> Makeup:
    if thing.blank_id is not None and thing.state == Lamination.State.GOOD:
        return _of_blank(thing.blank_id)
    lamination = Lamination.objects.select_related("board__lot").get(pk=thing.pk)
    board = lamination.board
    return Makeup(
        _plan(route), lots=[board.lot], boards=[board], laminations=[lamination]
    )


def _of_shared(thing: Model) -> Makeup:
    if isinstance(thing, PressLoad):
        load = PressLoad.objects.select_related("press").get(pk=thing.pk)
        blanks = Blank.objects.filter(loaded__load=load)
        return Makeup(_routes_of(blanks), loads=[load])
    mix_id = thing.mix_id if isinstance(thing, Coupon) else thing.pk
    mix = Mix.objects.get(pk=mix_id)
    blanks = Blank.objects.filter(spreads__mix=mix, spreads__corrected_by__isnull=True)
    coupons = [thing] if isinstance(thing, Coupon) else []
    return Makeup(_routes_of(blanks), mixes=[mix], coupons=coupons)


def _routes_of(blanks: Any) -> list[RouteRevision]:
    used = RouteRevision.objects.filter(pk__in=blanks.order_by().values("route"))
    return list(used.select_related("route").order_by("pk")) or newest_in_use()


def _each(things: Iterable[M]) -> list[M]:
    return list({thing.pk: thing for thing in things}.values())
