"""Routes: their newest revisions, stages with what they ask, and limits in force."""

import datetime as dt
from collections.abc import Iterable

from django.db.models import Count, F, OuterRef, Prefetch, Q, QuerySet, Subquery

from records.models import Characteristic, Limit, Route, RouteRevision, Stage


def newest_in_use() -> list[RouteRevision]:
    """List the newest revision of each route in use, the oldest route first."""
    newest = (
        RouteRevision.objects.filter(route=OuterRef("route"))
        .order_by("-number")
        .values("pk")[:1]
    )
    routes = RouteRevision.objects.filter(pk=Subquery(newest), route__in_use=True)
    return list(routes.select_related("route").order_by("route_id", "pk"))


def newest_revision(route: Route) -> RouteRevision | None:
    """Find the newest revision of a route."""
    revisions = RouteRevision.objects.filter(route=route).select_related("route")
    return revisions.order_by("-number", "-pk").first()


def stages_with_characteristics(revision: RouteRevision) -> list[Stage]:
    """List the stages of a revision, each with its characteristics (two queries)."""
    asked = Characteristic.objects.order_by("order", "pk")
    stages = Stage.objects.of(revision.pk).select_related("revision__route")
    listed = list(stages.prefetch_related(Prefetch("characteristics", asked)))
    for stage in listed:
        for characteristic in stage.characteristics.all():
            characteristic.stage = stage
    return listed


def limits_of(characteristics: Iterable[int], design: int | None) -> list[Limit]:
    """List every limit of some characteristics, the route's before the design's.

    Within each, the one that came into force first comes first (one query).
    """
    mine = Q(design_revision__isnull=True) | Q(design_revision=design)
    limits = Limit.objects.filter(mine, characteristic__in=list(characteristics))
    general_first = F("design_revision").asc(nulls_first=True)
    return list(limits.order_by(general_first, "in_force_from", "number", "pk"))


def in_force(limits: Iterable[Limit], moment: dt.datetime) -> dict[int, Limit]:
    """Choose the limit in force of each characteristic, among rows of `limits_of`.

    A design's own limit comes before the route's. Something read before the first
    limit was written is held against that first one.
    """
    chosen: dict[int, Limit] = {}
    for limit in limits:
        if limit.in_force_from <= moment or limit.characteristic_id not in chosen:
            chosen[limit.characteristic_id] = limit
    return chosen


def limits_in_force(
    characteristics: Iterable[int], moment: dt.datetime, design: int | None = None
) -> dict[int, Limit]:
    """Find the limit in force of each characteristic at a moment (one query)."""
    return in_force(limits_of(characteristics, design), moment)


def history_of_limits(characteristic: Characteristic) -> QuerySet[Limit]:
    """List every limit a characteristic ever had, the newest first."""
    limits = Limit.objects.filter(characteristic=characteristic)
    return limits.select_related("design_revision__design", "written_by").order_by(
        "-in_force_from", "-number", "-pk"
    )


def routes_listed() -> QuerySet[Route]:
    """List routes by name, with newest revision, its stages, and blanks built."""
    newest = RouteRevision.objects.filter(route=OuterRef("pk")).order_by("-number")
    stages = Stage.objects.filter(revision=OuterRef("newest_pk")).order_by()
    count = stages.values("revision").annotate(n=Count("pk")).values("n")
    return (
        Route.objects.annotate(
            newest_pk=Subquery(newest.values("pk")[:1]),
            newest=Subquery(newest.values("number")[:1]),
            blank_count=Count("revisions__blanks", distinct=True),
        )
        .annotate(stage_count=Subquery(count))
        .order_by("name", "pk")
    )


def revisions_of(route: Route) -> QuerySet[RouteRevision]:
    """List the revisions of a route, the newest first, with who issued them."""
    return route.revisions.select_related("written_by").order_by("-number", "-pk")
