"""Planning builds: routes, their revisions, and the limits readings are held to."""

import datetime as dt
from decimal import Decimal
from typing import Any

from django.db.models import Max
from django.utils.timezone import localtime

from records.models import (
    Authority,
    Characteristic,
    Limit,
    Revision,
    Route,
    RouteRevision,
    Stage,
)
from records.queries.routes.plans import (
    CHARACTERISTIC_FIELDS,
    STAGE_FIELDS,
    Plan,
    default_plan,
)
from records.rules.authority import may
from records.rules.finding import Finding
from records.rules.routes import limit_is_sound, plan_is_sound, same_as_in_force
from records.services.ledger import Act, Entry
from records.services.refusal import refuse_if_blocked

FIRST_LIMIT = "Starting value of the route"


def add_route(*, act: Act, name: str) -> Route:
    """Put a route in the book; its stages come with its first revision."""
    with Entry(act, "add route") as entry:
        entry.subject = name
        refuse_if_blocked(_may_manage(act))
        return entry.add(Route(name=name.strip()))


def issue_route_revision(
    *, act: Act, route: Route, stages: Plan, reason: str
) -> RouteRevision:
    """Issue a revision of a route, whole.

    Each stage is a dict of its fields with "characteristics", each a dict with
    "limits" (see `plan_of`); the order is that of the list. Builds begun on an
    earlier revision stay on it. Raises `Refusal` with all that is wrong.
    """
    with Entry(act, "issue route revision") as entry:
        entry.subject = route.name
        refuse_if_blocked([*_may_manage(act), *plan_is_sound(stages, reason)])
        return _issue(entry, route, stages, reason)


def write_default_route(*, act: Act, name: str) -> RouteRevision:
    """Put the default route in the book under a name, ready to be edited."""
    with Entry(act, "write default route") as entry:
        entry.subject = name
        stages, reason = default_plan(), "The default route, as it comes"
        refuse_if_blocked([*_may_manage(act), *plan_is_sound(stages, reason)])
        return _issue(entry, entry.add(Route(name=name.strip())), stages, reason)


def set_route_use(*, act: Act, route: Route, in_use: bool) -> Route:
    """Take a route out of use for new builds, or back."""
    with Entry(act, "set route use") as entry:
        entry.subject = route.name
        refuse_if_blocked(_may_manage(act))
        return entry.change(route, in_use=in_use)


def set_limit(
    *,
    act: Act,
    characteristic: Characteristic,
    low: Decimal | None,
    high: Decimal | None,
    source_kind: str,
    source: str,
    reason: str,
    unit: str = "",
    design_revision: Revision | None = None,
    in_force_from: dt.datetime | None = None,
) -> Limit:
    """Set a limit as its next revision, for every design or for one.

    In force from now where no moment is given. Readings taken before keep theirs.
    """
    limit = Limit(
        characteristic=characteristic,
        design_revision=design_revision,
        low=low,
        high=high,
        unit=unit or characteristic.unit,
        source_kind=source_kind,
        source=source.strip(),
        in_force_from=in_force_from or act.at,
        reason=reason.strip(),
    )
    with Entry(act, "set limit") as entry:
        entry.subject = characteristic.name
        mine = Limit.objects.filter(
            characteristic=characteristic, design_revision=design_revision
        )
        newest = mine.order_by("-number").first()
        unsound = [*limit_is_sound(limit), *same_as_in_force(newest, limit)]
        refuse_if_blocked([*_may_manage(act), *unsound])
        limit.number = newest.number + 1 if newest else 1
        return entry.add(limit)


def _issue(entry: Entry, route: Route, plan: Plan, reason: str) -> RouteRevision:
    last = RouteRevision.objects.filter(route=route).aggregate(n=Max("number"))["n"]
    revision = entry.add(
        RouteRevision(route=route, number=(last or 0) + 1, reason=reason.strip())
    )
    stages = entry.add_many(
        [
            Stage(revision=revision, order=place, **_chosen(row, STAGE_FIELDS))
            for place, row in enumerate(plan, start=1)
        ]
    )
    asked = [
        (stage, place, one)
        for stage, row in zip(stages, plan, strict=True)
        for place, one in enumerate(row.get("characteristics", []), start=1)
    ]
    characteristics = entry.add_many(
        [
            Characteristic(
                stage=stage, order=place, **_chosen(one, CHARACTERISTIC_FIELDS)
            )
            for stage, place, one in asked
        ]
    )
    entry.add_many(
        [
            _limit(entry, characteristic, row)
            for characteristic, (_, _, one) in zip(characteristics, asked, strict=True)
            for row in one.get("limits", [])
        ]
    )
    return revision


def _limit(entry: Entry, characteristic: Characteristic, row: dict[str, Any]) -> Limit:
    return Limit(
        characteristic=characteristic,
        design_revision=row.get("design_revision"),
        number=1,
        low=row.get("low"),
        high=row.get("high"),
        unit=row.get("unit") or characteristic.unit,
        source_kind=row.get("source_kind", Limit.Source.SHOP),
        source=row["source"],
        in_force_from=row.get("in_force_from") or entry.act.at,
        reason=row.get("reason") or FIRST_LIMIT,
    )


def _chosen(row: dict[str, Any], names: tuple[str, ...]) -> dict[str, Any]:
    return {name: row[name] for name in names if name in row}


def _may_manage(act: Act) -> list[Finding]:
    return may(act.by, Authority.Act.MANAGE, localtime(act.at).date())
