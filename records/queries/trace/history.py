"""Where did it come from, and where did it go: each in a constant number of queries."""

from dataclasses import dataclass, replace

from django.db.models import Min, Q

from records.models import (
    Blank,
    Coupon,
    Deviation,
    DeviationSubject,
    Gauge,
    JointSpread,
    Lamination,
    MaterialUse,
    PressLoad,
    PressSample,
    Propeller,
    Reading,
    SignOff,
)
from records.models.subjects import MATERIAL_KINDS
from records.queries.provenance.origin import Origin, mixes_in
from records.queries.reach.destinations import Destination, destinations
from records.queries.reach.holds import holds_on
from records.queries.reach.material import reached
from records.queries.subjects import about


@dataclass(frozen=True, slots=True)
class Reached:
    """All that was made of, or measured with, one thing."""

    blanks: list[Blank]
    propellers: list[Destination]


def where_to(kind: str, pk: int) -> Reached:
    """Find the blanks and propellers that a thing reached: two queries.

    A thing is named by its kind (`lot`, `board`, `lamination`, `mix`, `load`, `blank`,
    `propeller`, `coupon`, `gauge`) and its key. Corrected joints and void laminations
    reach nothing.
    """
    blanks = Blank.objects.filter(reached(kind, pk, "blank"))
    return Reached(
        blanks=list(blanks.select_related("revision__design").order_by("number", "pk")),
        propellers=destinations(reached(kind, pk, "propeller")),
    )


def where_from(propeller: Propeller) -> Origin:
    """Find all that a propeller was made of, and what was seen and decided of it."""
    return _seen(_made_of(propeller.blank, propeller), "propeller", propeller.pk)


def where_from_blank(blank: Blank) -> Origin:
    """Find all that a blank was made of, and what was seen and decided of it."""
    return _seen(_made_of(blank, None), "blank", blank.pk)


def _made_of(blank: Blank, propeller: Propeller | None) -> Origin:
    laminations = list(
        blank.laminations.filter(state=Lamination.State.GOOD)
        .select_related("board__lot__material", "board__lot__supplier")
        .order_by("position", "pk")
    )
    spreads = list(
        JointSpread.objects.filter(blank=blank, corrected_by__isnull=True)
        .select_related("written_by", *_glue("mix"))
        .order_by("joint", "spread_at", "pk")
    )
    uses = list(_uses_on(blank, propeller))
    return Origin(
        blank=blank,
        propeller=propeller,
        laminations=laminations,
        void_laminations=_void([lamination.board_id for lamination in laminations]),
        spreads=spreads,
        uses=uses,
        loads=list(
            PressLoad.objects.filter(loaded__blank=blank)
            .select_related("press")
            .order_by("on_at", "pk")
        ),
        coupons=list(
            Coupon.objects.filter(mix__in=[m.pk for m in mixes_in(spreads, uses)])
            .select_related("mix")
            .prefetch_related("tests")
            .order_by("number", "pk")
        ),
    )


def _glue(mix: str) -> list[str]:
    lots = [f"{mix}__{part}_lot" for part in ("resin", "hardener")]
    also = [f"{lot}__{of}" for lot in lots for of in ("material", "supplier")]
    return [f"{mix}__sheet__adhesive", *also]


def _void(boards: list[int]) -> list[Lamination]:
    void = Lamination.objects.filter(board__in=boards, state=Lamination.State.VOID)
    return list(void.select_related("board").order_by("number", "pk"))


def _uses_on(blank: Blank, propeller: Propeller | None) -> list[MaterialUse]:
    on = Q(blank=blank)
    if propeller is not None:
        on |= Q(propeller=propeller)
    uses = MaterialUse.objects.filter(on).select_related(
        "stage", "written_by", "lot__material", "lot__supplier", *_glue("mix")
    )
    return list(uses.order_by("happened_at", "pk"))


def _seen(origin: Origin, kind: str, pk: int) -> Origin:
    about_it = about(origin.keys)
    loads = [load.pk for load in origin.loads]
    readings = list(
        Reading.objects.filter(about_it).with_related().select_related("corrected_by")
    )
    measured = {reading.gauge_id for reading in readings if reading.gauge_id}
    samples = PressSample.objects.standing().filter(load__in=loads)
    gauges = Gauge.objects.filter(
        Q(pk__in=measured) | Q(pk__in=samples.order_by().values("gauge"))
    )
    lowest = samples.order_by("load").values_list("load").annotate(Min("glue_line_pa"))
    signoffs = SignOff.objects.filter(about_it).select_related(
        "stage", "written_by", *MATERIAL_KINDS
    )
    touched = DeviationSubject.objects.filter(about_it).order_by()
    deviations = Deviation.objects.filter(pk__in=touched.values("deviation"))
    return replace(
        origin,
        readings=readings,
        gauges=list(gauges.order_by("number", "pk")),
        lowest_pa=dict(lowest),
        signoffs=list(signoffs.order_by("happened_at", "pk")),
        deviations=list(
            deviations.prefetch_related("dispositions").order_by("happened_at", "pk")
        ),
        holds=holds_on(kind, pk),
    )
