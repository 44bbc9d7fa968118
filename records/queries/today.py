"""What waits today: every list in one or a few queries, however much waits.

Each list holds at most one more than `MOST`, so that a page can say there is more.
"""

import datetime as dt
from collections import defaultdict
from dataclasses import dataclass

from django.db.models import Exists, OuterRef, Q, QuerySet

from records.models import (
    Blank,
    Board,
    CorrectiveAction,
    Coupon,
    CouponTest,
    Deviation,
    EffectivenessCheck,
    Gauge,
    GlueSheet,
    Hold,
    JointSpread,
    Lot,
    PressLoad,
    PressSample,
    Propeller,
)
from records.queries.deviations.register import deviations_listed
from records.queries.gauges.register import gauges_listed
from records.queries.gluing.times import tables_of
from records.queries.pressing.history import PressHistory, history_from
from records.queries.reach.holds import standing_holds

MOST = 8
AHEAD = dt.timedelta(days=30)
SOON = dt.timedelta(days=7)


@dataclass(frozen=True, slots=True)
class GlueUp:
    """A blank in glue-up, how many joints are closed, and the life of its last mix."""

    blank: Blank
    closed: int
    until: dt.datetime | None


def glue_ups() -> list[GlueUp]:
    """List the blanks in glue-up with the end of their newest mix's working life."""
    blanks = list(
        Blank.objects.with_related().filter(state=Blank.State.GLUING).order_by("pk")
    )
    spreads = JointSpread.objects.standing().filter(blank__in=blanks)
    joints: defaultdict[int, set[int]] = defaultdict(set)
    until: dict[int, dt.datetime] = {}
    for spread in spreads.select_related("mix").order_by("mix__mixed_at", "pk"):
        joints[spread.blank_id].add(spread.joint)
        life_min = spread.mix.working_life_min
        if life_min is None:
            until.pop(spread.blank_id, None)
        else:
            life = dt.timedelta(minutes=float(life_min))
            until[spread.blank_id] = spread.mix.mixed_at + life
    return [GlueUp(b, len(joints[b.pk]), until.get(b.pk)) for b in blanks]


def loads_under_pressure() -> list[PressHistory]:
    """Give how each closed press has been held so far: five queries for all."""
    closed = PressLoad.objects.filter(off_at__isnull=True).select_related("press")
    loads = list(closed.order_by("on_at", "pk"))
    samples: defaultdict[int, list[PressSample]] = defaultdict(list)
    taken = PressSample.objects.standing().filter(load__in=loads)
    for sample in taken.order_by("load", "at", "pk"):
        samples[sample.load_id].append(sample)
    spreads = JointSpread.objects.standing().filter(blank__loaded__load__in=loads)
    used = spreads.order_by().values_list("blank__loaded__load", "mix__sheet")
    pairs = sorted(set(used))
    sheets = GlueSheet.objects.in_bulk([sheet for _, sheet in pairs])
    tables = tables_of(list(sheets))
    press_histories = []
    for load in loads:
        own = [sheet for loaded, sheet in pairs if loaded == load.pk]
        times = [(sheets[pk], tables[pk].press_time) for pk in own]
        press_histories.append(history_from(load, samples[load.pk], times))
    return press_histories


def deviations_open() -> list[Deviation]:
    """List open deviations, the oldest first."""
    deviations = deviations_listed().filter(state=Deviation.State.OPEN)
    return list(deviations.order_by("happened_at", "pk")[: MOST + 1])


def holds_unexplained() -> list[Hold]:
    """List standing holds that no deviation stands behind yet, the oldest first."""
    holds = standing_holds().filter(deviation__isnull=True)
    return list(holds[: MOST + 1])


def actions_due(today: dt.date) -> list[CorrectiveAction]:
    """List actions due within a week or overdue, and effects to be looked at."""
    looked_at = Exists(EffectivenessCheck.objects.filter(action=OuterRef("pk")))
    not_looked_at = Q(~looked_at, done_on__isnull=False, look_on__lte=today)
    due = Q(done_on__isnull=True, due_on__lte=today + SOON)
    actions = CorrectiveAction.objects.filter(due | not_looked_at)
    actions = actions.select_related("deviation", "owner").order_by("due_on", "pk")
    return list(actions[: MOST + 1])


def coupons_to_break() -> list[Coupon]:
    """List coupons without a test, the oldest first."""
    tested = Exists(CouponTest.objects.filter(coupon=OuterRef("pk")))
    coupons = Coupon.objects.filter(~tested).select_related("mix")
    return list(coupons.order_by("made_at", "pk")[: MOST + 1])


def lots_to_check() -> list[Lot]:
    """List lots that wait for their receiving check."""
    lots = Lot.objects.filter(state=Lot.State.WAITING).select_related("material")
    return list(lots.order_by("received_on", "pk")[: MOST + 1])


def boards_to_inspect() -> list[Board]:
    """List boards that wait for inspection."""
    boards = Board.objects.filter(state=Board.State.WAITING)
    return list(
        boards.select_related("lot__material").order_by("number", "pk")[: MOST + 1]
    )


def lots_expiring(today: dt.date) -> list[Lot]:
    """List lots in use whose last day comes within a month, or has passed."""
    lots = Lot.objects.filter(
        state=Lot.State.ACCEPTED, expires_on__lte=today + AHEAD
    ).select_related("material")
    return list(lots.order_by("expires_on", "pk")[: MOST + 1])


def gauges_due(today: dt.date) -> list[Gauge]:
    """List gauges in service that are due within a month, overdue or never done."""
    gauges: QuerySet[Gauge] = gauges_listed(today).filter(state=Gauge.State.IN_SERVICE)
    due = gauges.filter(Q(due_on__isnull=True) | Q(due_on__lte=today + AHEAD))
    return list(due[: MOST + 1])


def released() -> list[Propeller]:
    """List propellers that are released and still here."""
    propellers = Propeller.objects.filter(state=Propeller.State.RELEASED)
    propellers = propellers.select_related("revision__design")
    return list(propellers.order_by("serial", "pk")[: MOST + 1])
