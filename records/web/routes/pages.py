"""What the pages of routes show: stages, what each asks, limits and their sources."""

from typing import Any

from django.urls import reverse
from django.utils import timezone

from records.engineering.units import dimension, units_of
from records.models import Characteristic, Limit, Route, RouteRevision, Stage
from records.queries.routes.revisions import (
    history_of_limits,
    limits_in_force,
    revisions_of,
    stages_with_characteristics,
)
from records.queries.subjects import WORDS
from records.rules.routes import Per
from records.spelling.limits import limit as limit_in_words
from records.spelling.moments import when
from records.spelling.numbers import plain
from records.spelling.units import unit_name
from records.spelling.verdicts import Verdict

Kind = Characteristic.Kind
SUPERSEDED = "This revision is superseded: change the newest one."


def route_page(
    route: Route, revision: RouteRevision | None, disabled_reason: str
) -> dict[str, Any]:
    """Gather the page of a route.

    `disabled_reason` says why nothing may be changed.
    """
    use = "Take it out of use" if route.in_use else "Take it into use again"
    revisions = list(revisions_of(route))
    newest = bool(revisions) and revision is not None and revisions[0] == revision
    return {
        "route": route,
        "revision": revision,
        "verdict": _verdict(route, newest=newest),
        "stages": _stages(revision, editable=newest) if revision else [],
        "revisions": [_revision_line(r) for r in revisions],
        "why_not": disabled_reason or (SUPERSEDED if revision and not newest else ""),
        "add_stage": reverse("routes:add_stage", args=[route.pk]),
        "actions": [(use, reverse("routes:use", args=[route.pk]), disabled_reason)],
    }


def limit_page(characteristic: Characteristic) -> dict[str, Any]:
    """Gather the page of a limit: what is in force, and every one before it."""
    stage = characteristic.stage
    history = list(history_of_limits(characteristic))
    return {
        "asked": characteristic,
        "stage": stage,
        "route": stage.revision.route,
        "history": [_limit_line(limit) for limit in history],
        "initial": _initial(history),
    }


def units_of_limit(characteristic: Characteristic) -> list[str]:
    """List the units a limit may be given in, the reading's own first."""
    if characteristic.kind != Kind.MEASURED:
        return []
    own = characteristic.unit
    return [own, *(u for u in units_of(dimension(own)) if u != own)]


def _verdict(route: Route, *, newest: bool) -> Verdict:
    if not route.in_use:
        return Verdict("void", "out of use")
    return (
        Verdict("ok", "in use, newest revision")
        if newest
        else Verdict("void", "superseded")
    )


def _stages(revision: RouteRevision, *, editable: bool) -> list[dict[str, Any]]:
    stages = stages_with_characteristics(revision)
    characteristics = [c.pk for stage in stages for c in stage.characteristics.all()]
    limits = limits_in_force(characteristics, timezone.now())
    route = revision.route_id
    return [
        {
            "place": stage.order,
            "name": stage.name,
            "hold_point": stage.hold_point,
            "about": _about(stage),
            "guidance": stage.guidance,
            "caution": stage.caution,
            "edit": reverse("routes:stage", args=[route, stage.code])
            if editable
            else "",
            "add": reverse("routes:add_characteristic", args=[route, stage.code])
            if editable
            else "",
            "asked": [
                _characteristic(c, limits.get(c.pk), stage, editable=editable)
                for c in stage.characteristics.all()
            ],
        }
        for stage in stages
    ]


def _about(stage: Stage) -> str:
    parts = [f"signed on each {stage.get_scope_display()}"]
    parts.append(f"check: {stage.get_check_kind_display()}")
    if stage.evidence:
        parts.append(f"rests on: {stage.get_evidence_display()}")
    if stage.goes_stale:
        parts.append("goes stale")
    return ", ".join(parts)


def _characteristic(
    c: Characteristic, limit: Limit | None, stage: Stage, *, editable: bool
) -> dict[str, str]:
    edit = reverse(
        "routes:characteristic", args=[stage.revision.route_id, stage.code, c.code]
    )
    return {
        "name": c.name,
        "about": _asked_about(c),
        "limit": _limit_of(c, limit),
        "source": f"{limit.get_source_kind_display()}: {limit.source}" if limit else "",
        "edit": edit if editable else "",
        "limit_url": reverse("routes:limit", args=[c.pk]) if _has_limit(c) else "",
    }


def _asked_about(c: Characteristic) -> str:
    parts = [] if c.required else ["if wanted"]
    parts += [f"on the {WORDS[c.on]}"]
    parts += [c.get_per_display()] if c.per != Per.ONCE else []
    parts += [f"{c.at_least} readings"] if c.at_least > 1 else []
    unit = unit_name(c.unit)
    parts += [f"in {unit}"] if unit else []
    parts += ["with a gauge"] if c.gauge_needed else []
    parts += ["changes the material"] if c.changes_material else []
    return ", ".join(parts)


def _limit_of(c: Characteristic, limit: Limit | None) -> str:
    if c.kind != Kind.MEASURED:
        return "in words" if c.kind == Kind.NOTE else "yes is as required"
    if c.nominal:
        return "from the drawing, at each station"
    if c.computed == Characteristic.Computed.GLUE_LINE_PRESSURE:
        return "at the glue line, from the glue's sheet"
    if limit is None:
        return "no limit"
    return limit_in_words(limit.low, limit.high, limit.unit)


def _has_limit(c: Characteristic) -> bool:
    from_press = c.computed == Characteristic.Computed.GLUE_LINE_PRESSURE
    return c.kind == Kind.MEASURED and not c.nominal and not from_press


def _revision_line(revision: RouteRevision) -> dict[str, str]:
    by = f"{revision.written_by.name}, {when(revision.written_at)}"
    return {
        "url": reverse("routes:revision", args=[revision.pk]),
        "number": str(revision.number),
        "about": f"{revision.reason}. {by}",
    }


def _limit_line(limit: Limit) -> dict[str, str]:
    design = limit.design_revision
    only = "" if design is None else f", only for {design.design}, {design}"
    return {
        "sides": limit_in_words(limit.low, limit.high, limit.unit),
        "number": f"limit {limit.number}{only}",
        "source": f"{limit.get_source_kind_display()}: {limit.source}",
        "about": f"In force from {when(limit.in_force_from)}. {limit.reason}. "
        f"{limit.written_by.name}.",
    }


def _initial(history: list[Limit]) -> dict[str, Any]:
    newest = next((x for x in history if x.design_revision is None), None)
    if newest is None:
        return {}
    return {
        "low": plain(newest.low) if newest.low is not None else None,
        "high": plain(newest.high) if newest.high is not None else None,
        "unit": newest.unit,
    }
