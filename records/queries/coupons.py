"""Coupons, their tests, and what a test of a coupon is held against."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Count, Exists, F, OuterRef, Q, QuerySet, Subquery

from records.engineering.units import convert, to_si
from records.models import (
    Blank,
    Characteristic,
    Coupon,
    CouponTest,
    JointSpread,
    Limit,
    Mix,
)
from records.models.base import standing_at
from records.queries.routes.revisions import in_force, newest_in_use
from records.spelling.limits import source_of

WOOD_FAILURE = Characteristic.Purpose.WOOD_FAILURE
STRENGTH = Characteristic.Purpose.SHEAR_STRENGTH
Verdict = CouponTest.Verdict


@dataclass(frozen=True, slots=True)
class CouponLimits:
    """The least wood failure [%] and strength [Pa] that the routes ask for.

    Of several routes or designs the strictest. `source` says where each comes from.
    """

    wood_failure_pct: Decimal | None = None
    strength_pa: float | None = None
    source: str = ""


def coupons_listed() -> QuerySet[Coupon]:
    """List coupons, newest first: `tested` counts tests, `last` is the last verdict."""
    tests = CouponTest.objects.filter(coupon=OuterRef("pk"))
    newest = tests.order_by("-happened_at", "-pk").values("verdict")[:1]
    return (
        Coupon.objects.select_related("mix__sheet__adhesive")
        .annotate(tested=Count("tests", standing_at("tests")), last=Subquery(newest))
        .order_by("-made_at", "-pk")
    )


def tests_of(coupon: Coupon) -> list[CouponTest]:
    """Give every test of a coupon, first to last."""
    tests = coupon.tests.select_related("written_by")
    return list(tests.order_by("happened_at", "pk"))


def joints_covered(mix: Mix) -> list[tuple[str, list[int]]]:
    """Give the blanks and joints that a mix stands in, and its coupons speak for."""
    joints_of: defaultdict[str, list[int]] = defaultdict(list)
    rows = JointSpread.objects.standing().filter(mix=mix)
    for number, joint in rows.order_by("blank_id", "joint").values_list(
        "blank__number", "joint"
    ):
        if joint not in joints_of[number]:
            joints_of[number].append(joint)
    return list(joints_of.items())


def mixes_without_coupon(since: dt.datetime) -> QuerySet[Mix]:
    """List the mixes in joints, made since a moment, that have no coupon yet."""
    glued = JointSpread.objects.standing().filter(mix=OuterRef("pk"))
    return (
        Mix.objects.filter(Exists(glued), coupons__isnull=True, mixed_at__gte=since)
        .select_related("sheet__adhesive")
        .order_by("mixed_at", "pk")
    )


def limits_for(mix: Mix, moment: dt.datetime) -> CouponLimits:
    """Find what the routes ask of a coupon of a mix, in force at a moment.

    Asked of every blank that the mix stands in; while it stands in none, of the
    newest revision of every route in use. Four queries at most.
    """
    blanks = Blank.objects.filter(
        spreads__mix=mix, spreads__corrected_by__isnull=True
    ).distinct()
    plans = set(blanks.order_by().values_list("route", "revision"))
    if not plans:
        plans = {(route.pk, 0) for route in newest_in_use()}
    characteristics = Characteristic.objects.filter(
        purpose__in=(WOOD_FAILURE, STRENGTH), stage__revision__in={r for r, _ in plans}
    ).select_related("stage")
    limits = _limits(list(characteristics), {design for _, design in plans})
    in_force_here = [
        (characteristic.purpose, limit)
        for characteristic in characteristics
        for route, design in plans
        if characteristic.stage.revision_id == route
        for limit in _in_force(limits, characteristic, design, moment)
    ]
    wood = _strictest(in_force_here, WOOD_FAILURE, "%")
    strength = _strictest(in_force_here, STRENGTH, "Pa")
    sources = dict.fromkeys(source_of(limit) for limit in (wood, strength) if limit)
    return CouponLimits(
        wood_failure_pct=convert(_low(wood), wood.unit, "%") if wood else None,
        strength_pa=to_si(_low(strength), strength.unit) if strength else None,
        source="; ".join(sources),
    )


def _limits(
    characteristics: list[Characteristic], designs: Iterable[int]
) -> list[Limit]:
    """Read every limit that may apply, the route's before the designs'."""
    mine = Q(design_revision__isnull=True) | Q(design_revision__in=designs)
    limits = Limit.objects.filter(
        mine, characteristic__in=characteristics, low__isnull=False
    )
    general_first = F("design_revision").asc(nulls_first=True)
    return list(limits.order_by(general_first, "in_force_from", "number", "pk"))


def _in_force(
    limits: list[Limit],
    characteristic: Characteristic,
    design: int,
    moment: dt.datetime,
) -> list[Limit]:
    own = [x for x in limits if x.design_revision_id in {None, design}]
    limit = in_force(own, moment).get(characteristic.pk)
    return [limit] if limit else []


def _strictest(
    limits: Iterable[tuple[str, Limit]], purpose: str, unit: str
) -> Limit | None:
    same = [limit for name, limit in limits if name == purpose]
    key = {x.pk: convert(_low(x), x.unit, unit) for x in same}
    return max(same, key=lambda x: key[x.pk], default=None)


def _low(limit: Limit) -> Decimal:
    return limit.low if limit.low is not None else Decimal(0)
