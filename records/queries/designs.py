"""Designs with their newest revisions, and what a station table comes to."""

from dataclasses import dataclass

from django.db.models import Count, OuterRef, QuerySet, Subquery

from records.engineering.geometry import mean_pitch
from records.engineering.planform import activity_factor
from records.engineering.quadrature import Quadrature
from records.models import Design, Revision, Station
from records.queries.gluing.area import joint_areas_mm2


@dataclass(frozen=True, slots=True)
class Figures:
    """What is computed from the station table of a revision.

    Pitches are geometric, one a station and their plain mean [mm]; the activity
    factor is of one blade between its outermost stations by trapezoids [-]; the
    area is of one glued joint [mm2]. None where too few stations are given.
    """

    pitches_mm: list[float]
    mean_pitch_mm: float
    activity_factor: float | None
    joint_area_mm2: float


def designs_listed() -> QuerySet[Design]:
    """List designs by model, each with its newest revision's number and size."""
    newest = Revision.objects.filter(design=OuterRef("pk")).order_by("-pk")
    return Design.objects.annotate(
        newest=Subquery(newest.values("number")[:1]),
        diameter_mm=Subquery(newest.values("diameter_mm")[:1]),
        pitch_mm=Subquery(newest.values("pitch_mm")[:1]),
        revision_count=Count("revisions"),
    ).order_by("model", "pk")


def newest_revision(design: Design) -> Revision | None:
    """Find the newest revision of a design."""
    return design.revisions.order_by("-pk").first()


def revisions_of(design: Design) -> QuerySet[Revision]:
    """List the revisions of a design, the newest first, with who issued them."""
    return design.revisions.select_related("written_by").order_by("-pk")


def revisions_in_use() -> QuerySet[Revision]:
    """List the revisions of designs in use, with their designs, by model."""
    rows = Revision.objects.filter(design__in_use=True).select_related("design")
    return rows.order_by("design__model", "-pk")


def revision_in_whole(pk: int) -> Revision:
    """Read a revision with its design, who issued it and the species allowed.

    Raises Revision.DoesNotExist.
    """
    rows = Revision.objects.select_related("design", "written_by")
    return rows.prefetch_related("species").get(pk=pk)


def stations_of(revision: Revision) -> list[Station]:
    """List the stations of a revision from the hub outwards."""
    return list(revision.stations.order_by("radius_mm", "pk"))


def figures_of(revision: Revision, stations: list[Station]) -> Figures | None:
    """Compute what the station table comes to; None without stations (one query)."""
    if not stations:
        return None
    radii = [float(s.radius_mm) for s in stations]
    pitch = mean_pitch(radii, [float(s.angle_deg) for s in stations])
    factor = None
    if len(stations) > 1:
        chords = [float(s.chord_mm) for s in stations]
        diameter = float(revision.diameter_mm)
        outline = activity_factor(radii, chords, diameter, Quadrature.TRAPEZOID)
        factor = outline.value
    return Figures(
        pitches_mm=list(pitch.stations_mm),
        mean_pitch_mm=pitch.mean_mm,
        activity_factor=factor,
        joint_area_mm2=joint_areas_mm2([revision])[revision.pk],
    )
