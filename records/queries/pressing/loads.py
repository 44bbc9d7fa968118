"""Presses, their loads, and what is in a load."""

from django.db.models import Count, Q, QuerySet

from records.models import (
    Blank,
    GlueSheet,
    JointSpread,
    Lamination,
    LoadedBlank,
    Material,
    Press,
    PressLoad,
    PressSample,
)


def presses_listed() -> QuerySet[Press]:
    """List presses, those in use first, each with its loads counted as `closed`."""
    counted = Press.objects.annotate(closed=Count("loads", distinct=True))
    return counted.order_by("-in_use", "name", "pk")


def loads_listed() -> QuerySet[PressLoad]:
    """List loads, newest first: `blanks` and `samples_taken` are counted."""
    return (
        PressLoad.objects.with_related()
        .annotate(
            blanks=Count("loaded", distinct=True),
            samples_taken=Count(
                "samples", Q(samples__corrected_by__isnull=True), distinct=True
            ),
        )
        .order_by("-on_at", "-pk")
    )


def blanks_in(load: PressLoad) -> list[LoadedBlank]:
    """Give the blanks of a load, each with its design."""
    loaded = LoadedBlank.objects.filter(load=load)
    return list(loaded.select_related("blank__revision__design").order_by("pk"))


def blanks_to_press() -> QuerySet[Blank]:
    """List the blanks with glue in their joints, or glued and to be pressed again."""
    ready = (Blank.State.GLUING, Blank.State.GLUED)
    return Blank.objects.with_related().filter(state__in=ready).order_by("state", "-pk")


def open_load_of(press: Press) -> PressLoad | None:
    """Find the load that is still under pressure in a press."""
    return PressLoad.objects.under_pressure().filter(press=press).first()


def loads_under_pressure_with(blanks: list[Blank]) -> dict[int, PressLoad]:
    """Find, for each of many blanks, the load that it is still in: one query."""
    rows = LoadedBlank.objects.filter(blank__in=blanks, load__off_at__isnull=True)
    return {row.blank_id: row.load for row in rows.select_related("load")}


def sheets_in(blanks: list[int]) -> list[GlueSheet]:
    """Give the glue sheets of all mixes standing in some blanks: one query."""
    sheets = GlueSheet.objects.filter(
        mixes__spreads__blank__in=blanks, mixes__spreads__corrected_by__isnull=True
    )
    return list(sheets.select_related("adhesive").distinct().order_by("pk"))


def joints_in(blanks: list[int]) -> list[JointSpread]:
    """Give the standing joints of some blanks with their mixes: one query."""
    spreads = JointSpread.objects.standing().filter(blank__in=blanks)
    return list(
        spreads.select_related("mix__sheet").order_by("blank_id", "joint", "pk")
    )


def woods_in(blanks: list[int]) -> list[Material]:
    """Give the species laid in some blanks: one query."""
    materials = Material.objects.filter(
        lots__boards__laminations__blank__in=blanks,
        lots__boards__laminations__state=Lamination.State.GOOD,
    )
    return list(materials.distinct().order_by("name", "pk"))


def samples_of(load: PressLoad) -> list[PressSample]:
    """Give the standing samples of a load in the order they were taken."""
    samples = PressSample.objects.standing().filter(load=load)
    return list(samples.select_related("gauge", "written_by").order_by("at", "pk"))


def corrected_samples(load: PressLoad) -> list[PressSample]:
    """Give the samples of a load that a later one corrected."""
    samples = PressSample.objects.filter(load=load, corrected_by__isnull=False)
    return list(samples.select_related("corrected_by__written_by").order_by("at", "pk"))


def last_sample_at(press: Press) -> PressSample | None:
    """Find the newest sample taken at a press, in whatever load."""
    samples = PressSample.objects.standing().filter(load__press=press)
    return samples.select_related("gauge").order_by("-at", "-pk").first()
