"""What mixes there are, and in which joints each of them stands."""

import datetime as dt

from django.db.models import Case, Count, Exists, Max, OuterRef, Q, QuerySet, When

from records.models import Blank, Coupon, GlueSheet, JointSpread, LoadedBlank, Lot, Mix

RECENT = dt.timedelta(hours=24)


def newest_sheet(sheet: GlueSheet) -> int:
    """Give the number of the newest revision of a sheet's glue."""
    sheets = GlueSheet.objects.filter(adhesive=sheet.adhesive_id)
    return int(sheets.aggregate(newest=Max("revision"))["newest"])


def sheets_in_force() -> QuerySet[GlueSheet]:
    """List the newest sheet of every glue the shop still works with."""
    newer = GlueSheet.objects.filter(
        adhesive=OuterRef("adhesive"), revision__gt=OuterRef("revision")
    )
    return (
        GlueSheet.objects.filter(~Exists(newer), adhesive__in_use=True)
        .select_related("adhesive", "hardener")
        .order_by("adhesive__name", "pk")
    )


def glue_lots(kind: str) -> QuerySet[Lot]:
    """List the accepted lots of an "adhesive" or "hardener", the fresh ones first."""
    return (
        Lot.objects.filter(material__kind=kind, state=Lot.State.ACCEPTED)
        .select_related("material")
        .order_by("material__name", "expires_on", "pk")
    )


def mixes_listed() -> QuerySet[Mix]:
    """List mixes, newest first: `joints` counts joints, `coupons_made` coupons."""
    return (
        Mix.objects.with_related()
        .annotate(
            joints=Count(
                "spreads", Q(spreads__corrected_by__isnull=True), distinct=True
            ),
            coupons_made=Count("coupons", distinct=True),
        )
        .order_by("-mixed_at", "-pk")
    )


def mixes_for(blank: Blank, at: dt.datetime) -> list[Mix]:
    """Give the mixes in a blank's joints, and those of the last day, oldest first.

    These are what a next joint may be closed with. Made in the last day, or written
    down in it: a glue-up kept on paper is typed in later. `elsewhere` tells that a
    mix stands in other blanks only: it was probably not made for this one.
    """
    glued = JointSpread.objects.standing().filter(mix=OuterRef("pk"))
    here = Exists(glued.filter(blank=blank))
    since = at - RECENT
    of_the_day = Q(mixed_at__gt=since) | Q(written_at__gt=since)
    mixes = Mix.objects.with_related().filter(here | of_the_day & Q(mixed_at__lte=at))
    used = mixes.annotate(here=here, used=Exists(glued)).annotate(
        elsewhere=Case(When(here=False, used=True, then=True), default=False)
    )
    return list(used.order_by("mixed_at", "pk"))


def joints_of(blank: Blank) -> list[JointSpread]:
    """Give what stands in the joints of a blank, joint by joint."""
    return list(JointSpread.objects.standing().filter(blank=blank).in_order())


def joints_closed(blank: Blank) -> set[int]:
    """Name the joints of a blank that any glue stands in."""
    spreads = JointSpread.objects.standing().filter(blank=blank)
    return set(spreads.values_list("joint", flat=True))


def corrected_joints(blank: Blank) -> list[JointSpread]:
    """Give the lines about a blank's joints that a later line corrected."""
    spreads = JointSpread.objects.filter(blank=blank, corrected_by__isnull=False)
    return list(spreads.in_order().select_related("mix", "corrected_by__written_by"))


def joints_with(mix: Mix) -> list[JointSpread]:
    """Give the joints that a mix stands in, blank by blank."""
    spreads = JointSpread.objects.standing().filter(mix=mix)
    return list(
        spreads.select_related("blank__revision__design", "written_by").order_by(
            "blank_id", "joint", "pk"
        )
    )


def grams_spread(mix: Mix) -> dict[int, float]:
    """Give the masses of a mix in joints, where they were weighed: line to [g]."""
    spreads = JointSpread.objects.standing().filter(mix=mix, spread_g__isnull=False)
    return {pk: float(g) for pk, g in spreads.values_list("pk", "spread_g") if g}


def pressures_on(blank: Blank) -> list[dt.datetime]:
    """Give the times at which pressure went on a blank, first to last."""
    loaded = LoadedBlank.objects.filter(blank=blank).order_by("load__on_at")
    return list(loaded.values_list("load__on_at", flat=True))


def coupons_of(mix: Mix) -> list[Coupon]:
    """Give the coupons of a mix, each with its tests."""
    coupons = Coupon.objects.filter(mix=mix).prefetch_related("tests")
    return list(coupons.order_by("made_at", "pk"))


def blanks_in_glue_up() -> QuerySet[Blank]:
    """List the blanks that are being glued, with their design."""
    return Blank.objects.with_related().filter(state=Blank.State.GLUING).order_by("pk")
