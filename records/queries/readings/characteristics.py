"""What may be read on a thing, with which gauge last, and for whose stages."""

from collections.abc import Collection

from django.db.models import Max, Model, QuerySet

from records.models import (
    Blank,
    Characteristic,
    Coupon,
    Lamination,
    Mix,
    PressLoad,
    Reading,
    RouteRevision,
    Stage,
)


def characteristics_of(
    kind: str, routes: Collection[RouteRevision]
) -> list[Characteristic]:
    """List all that some routes ask for on a kind of thing, in the routes' order."""
    characteristics = Characteristic.objects.filter(on=kind, stage__revision__in=routes)
    characteristics = characteristics.select_related("stage__revision__route")
    return list(
        characteristics.order_by("stage__revision", "stage__order", "order", "pk")
    )


def whose_stages(thing: Model) -> Model:
    """Find the thing whose stages the readings of this one count for.

    A blank for its laminations, mixes, press loads and coupons, the first of several;
    else the thing itself.
    """
    blanks: QuerySet[Blank] = Blank.objects.none()
    if isinstance(thing, Lamination):
        blanks = Blank.objects.filter(laminations=thing)
    elif isinstance(thing, PressLoad):
        blanks = Blank.objects.filter(loaded__load=thing)
    elif isinstance(thing, Mix | Coupon):
        mix = thing.mix_id if isinstance(thing, Coupon) else thing.pk
        blanks = Blank.objects.filter(spreads__mix=mix)
    return blanks.order_by("pk").first() or thing


def gauges_last_used(stage: Stage) -> dict[str, int]:
    """Name the gauge that each reading of a stage was last taken with, by its code.

    On whatever thing, and on whatever revision of whatever route (one query).
    """
    last = (
        Reading.objects.filter(
            characteristic__stage__code=stage.code, gauge__isnull=False
        )
        .order_by()
        .values("characteristic__code")
        .annotate(last=Max("pk"))
    )
    rows = Reading.objects.filter(pk__in=last.values("last")).order_by("pk")
    return dict(rows.values_list("characteristic__code", "gauge"))


def readings_listed() -> QuerySet[Reading]:
    """List every reading with what a line shows of it, the newest first."""
    rows = Reading.objects.with_related().select_related("corrected_by")
    return rows.order_by("-happened_at", "-pk")


def versions_of(reading: Reading) -> list[Reading]:
    """List a reading as first entered and every correction of it, oldest first."""
    about = {reading.subject_kind: reading.subject}
    rows = Reading.objects.filter(**about, characteristic=reading.characteristic_id)
    by_pk = {r.pk: r for r in rows.select_related("written_by").order_by("pk")}
    after = {r.corrects_id: r for r in by_pk.values() if r.corrects_id}
    first = by_pk[reading.pk]
    while first.corrects_id:
        first = by_pk[first.corrects_id]
    chain = [first]
    while (later := after.get(chain[-1].pk)) is not None:
        chain.append(later)
    return chain
