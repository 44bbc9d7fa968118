"""By which route, and to whose design, the things that a deviation touches are made."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Model, QuerySet

from records.models import Blank, Gauge, Propeller, Stage
from records.queries.reach.material import leads_to
from records.queries.routes.revisions import newest_in_use
from records.queries.subjects import kind_of


@dataclass(frozen=True, slots=True)
class Plans:
    """Routes, by key, and who answers for the designs."""

    routes: frozenset[int]
    authorities: tuple[str, ...]

    def stages(self) -> QuerySet[Stage]:
        """List the stages of the routes, in order."""
        stages = Stage.objects.filter(revision__in=self.routes)
        return stages.order_by("revision", "order", "pk")


def plans_for(things: Iterable[Model]) -> Plans:
    """Find the plans of all blanks and propellers that some things are, or reached.

    Where they reached none yet, the newest revision of every route in use.
    """
    ids: defaultdict[str, list[int]] = defaultdict(list)
    for thing in things:
        if not isinstance(thing, Gauge):
            ids[kind_of(thing)].append(thing.pk)
    propellers = Propeller.objects.filter(pk__in=ids.pop("propeller", []))
    made = list(propellers.values_list("blank", "revision__design_authority"))
    reached = {blank for _, blank in leads_to(ids, "blank")}
    blanks = Blank.objects.filter(pk__in=reached | {blank for blank, _ in made})
    rows = list(blanks.values_list("pk", "route", "revision__design_authority"))
    routes = {route for _, route, _ in rows}
    if not routes:
        routes = {route.pk for route in newest_in_use()}
    authorities = [name for _, name in made]
    authorities += [name for blank, _, name in rows if blank in reached]
    return Plans(frozenset(routes), tuple(dict.fromkeys(filter(None, authorities))))
