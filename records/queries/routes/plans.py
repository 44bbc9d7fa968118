"""A route revision as plain data: to read from a file, to edit, to write anew."""

import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any, Final

from django.conf import settings

from records.models import Characteristic, Limit, RouteRevision, Stage
from records.queries.routes.revisions import stages_with_characteristics

Plan = list[dict[str, Any]]
STAGE_FIELDS: Final = (
    "code",
    "name",
    "scope",
    "hold_point",
    "check_kind",
    "goes_stale",
    "evidence",
    "guidance",
    "caution",
)
CHARACTERISTIC_FIELDS: Final = (
    "code",
    "name",
    "purpose",
    "on",
    "kind",
    "unit",
    "per",
    "at_least",
    "required",
    "gauge_needed",
    "nominal",
    "computed",
    "compares",
    "changes_material",
    "plausible_low",
    "plausible_high",
    "how",
)
LIMIT_FIELDS: Final = (
    "design_revision",
    "low",
    "high",
    "unit",
    "source_kind",
    "source",
    "in_force_from",
    "reason",
)
DECIMALS: Final = ("plausible_low", "plausible_high", "low", "high")


def default_plan() -> Plan:
    """Read the default route: stages, readings and starting limits with sources."""
    path: Path = settings.ROOT / "shared" / "default_route.toml"
    stages: Plan = tomllib.loads(path.read_text())["stage"]
    for stage in stages:
        stage["characteristics"] = stage.pop("characteristic", [])
        for characteristic in stage["characteristics"]:
            limit = characteristic.pop("limit", None)
            characteristic["limits"] = [limit] if limit else []
            for row in (characteristic, *characteristic["limits"]):
                row.update({k: Decimal(row[k]) for k in DECIMALS if k in row})
    return stages


def plan_of(revision: RouteRevision) -> Plan:
    """Spell a route revision as data, with the newest limits (three queries).

    Each design's own newest limit comes along.
    """
    stages = stages_with_characteristics(revision)
    characteristics = [c.pk for stage in stages for c in stage.characteristics.all()]
    newest: dict[int, dict[int | None, Limit]] = {}
    limits = Limit.objects.filter(characteristic__in=characteristics)
    for limit in limits.select_related("design_revision").order_by(
        "in_force_from", "number", "pk"
    ):
        of_one = newest.setdefault(limit.characteristic_id, {})
        of_one[limit.design_revision_id] = limit
    return [_stage(stage, newest) for stage in stages]


def _stage(stage: Stage, limits: dict[int, dict[int | None, Limit]]) -> dict[str, Any]:
    fields = {name: getattr(stage, name) for name in STAGE_FIELDS}
    fields["characteristics"] = [
        _characteristic(c, limits.get(c.pk, {})) for c in stage.characteristics.all()
    ]
    return fields


def _characteristic(
    characteristic: Characteristic, limits: dict[int | None, Limit]
) -> dict[str, Any]:
    fields = {name: getattr(characteristic, name) for name in CHARACTERISTIC_FIELDS}
    fields["limits"] = [
        {name: getattr(limit, name) for name in LIMIT_FIELDS}
        for limit in limits.values()
    ]
    return fields
