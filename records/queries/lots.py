"""What lots there are, what was made of each, and who they came from."""

import datetime as dt

from django.db.models import (
    BooleanField,
    Case,
    Count,
    Q,
    QuerySet,
    Value,
    When,
)

from records.models import (
    Board,
    Deviation,
    DeviationSubject,
    GlueSheet,
    Lamination,
    Lot,
    LotCheck,
    Material,
    MaterialUse,
    Mix,
    Supplier,
)


def lots_listed(on: dt.date) -> QuerySet[Lot]:
    """List lots, the last received first; `expired` tells the old ones still open."""
    open_states = [Lot.State.WAITING, Lot.State.ACCEPTED]
    expired = Case(
        When(expires_on__lt=on, state__in=open_states, then=Value(value=True)),
        default=Value(value=False),
        output_field=BooleanField(),
    )
    return (
        Lot.objects.with_related()
        .annotate(expired=expired)
        .order_by("-received_on", "-pk")
    )


def checks_of(lot: Lot) -> list[LotCheck]:
    """Give a lot's receiving checks, newest first."""
    checks = lot.checks.select_related("written_by")
    return list(checks.order_by("-happened_at", "-pk"))


def boards_of(lot: Lot) -> QuerySet[Board]:
    """List the boards of a lot, with the laminations sawn of each counted."""
    good = Q(laminations__state=Lamination.State.GOOD)
    return (
        Board.objects.filter(lot=lot)
        .annotate(sawn=Count("laminations", good))
        .order_by("number", "pk")
    )


def mixes_of(lot: Lot) -> QuerySet[Mix]:
    """List the mixes that a lot went into, as resin or as hardener, newest first."""
    return (
        Mix.objects.filter(Q(resin_lot=lot) | Q(hardener_lot=lot))
        .select_related("sheet__adhesive")
        .order_by("-mixed_at", "-pk")
    )


def uses_of(lot: Lot) -> QuerySet[MaterialUse]:
    """List where a lot was put on blanks and propellers besides joints."""
    uses = lot.uses.select_related("blank", "propeller", "written_by")
    return uses.order_by("-happened_at", "-pk")


def suppliers_listed() -> QuerySet[Supplier]:
    """List suppliers with their lots counted: `received`, and `refused` of them."""
    bad = Q(lots__state__in=[Lot.State.REFUSED, Lot.State.RETURNED])
    return Supplier.objects.annotate(
        received=Count("lots"), refused=Count("lots", bad)
    ).order_by("-in_use", "name", "pk")


def deviations_about(supplier: Supplier) -> QuerySet[Deviation]:
    """List the deviations about a supplier's lots, their boards, or their glue."""
    ways = (
        "lot",
        "board__lot",
        "lamination__board__lot",
        "mix__resin_lot",
        "mix__hardener_lot",
    )
    sent = Q()
    for way in ways:
        sent |= Q(**{f"{way}__supplier": supplier})
    about = DeviationSubject.objects.filter(sent).values("deviation")
    return Deviation.objects.filter(pk__in=about).order_by("-happened_at", "-pk")


def materials_listed() -> QuerySet[Material]:
    """List materials by kind and name, with their lots counted."""
    return Material.objects.annotate(received=Count("lots")).order_by(
        "-in_use", "kind", "name", "pk"
    )


def sheets_of(adhesive_id: int) -> list[GlueSheet]:
    """Give the revisions of an adhesive's glue sheet, newest first."""
    sheets = GlueSheet.objects.with_related().filter(adhesive=adhesive_id)
    return list(sheets.order_by("-revision", "-pk"))
