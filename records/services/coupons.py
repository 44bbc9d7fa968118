"""Coupons: sample joints made with a mix, and broken at several ages."""

import datetime as dt
from decimal import Decimal

from records.engineering.coupons import shear_strength
from records.engineering.units import to_si
from records.models import Coupon, CouponTest, Hold, Mix
from records.queries.coupons import CouponLimits, limits_for
from records.rules import coupons as rules
from records.services.files import Sent, attach, clean
from records.services.holds import hold_row
from records.services.ledger import Act, Entry
from records.services.numbers import next_number
from records.services.refusal import refuse_if_blocked


def make_coupon(
    *, act: Act, mix: Mix, wood: str, made_at: dt.datetime, twin_place: str = ""
) -> Coupon:
    """Put a sample joint of a mix in the book, and where its twin is kept."""
    with Entry(act, "make coupon") as entry:
        refuse_if_blocked(rules.coupon_is_possible(mix, made_at, act.at))
        number = next_number("coupon", made_at)
        entry.subject = number
        return entry.add(
            Coupon(
                number=number,
                mix=mix,
                wood=wood,
                made_at=made_at,
                twin_place=twin_place,
            )
        )


def record_coupon_test(
    *,
    act: Act,
    coupon: Coupon,
    happened_at: dt.datetime,
    method: str,
    wood_failure_pct: Decimal,
    load_n: Decimal | None = None,
    area_mm2: Decimal | None = None,
    note: str = "",
    least_wood_failure_pct: Decimal | None = None,
    photo: Sent | None = None,
) -> CouponTest:
    """Write down a test, held against the route's limits of that day.

    Load in newtons, area as measured in mm². `least_wood_failure_pct` is the shop's
    own rule, taken only where no route has a limit. A test that failed stays, and
    puts the mix on hold; a twin that passes later stands beside it.
    """
    cleaned = clean(photo) if photo is not None else None
    with Entry(act, "test coupon") as entry:
        coupon = Coupon.objects.select_related("mix").get(pk=coupon.pk)
        entry.subject = coupon.number
        test = CouponTest(
            coupon=coupon,
            happened_at=happened_at,
            method=method,
            load_n=load_n,
            area_mm2=area_mm2,
            wood_failure_pct=wood_failure_pct,
            note=note,
        )
        _judge(test, act.at, least_wood_failure_pct)
        entry.add(test)
        if cleaned is not None:
            caption = f"Test of coupon {coupon}: {test.get_verdict_display()}"
            attach(entry, coupon, cleaned, caption=caption, happened_at=happened_at)
        _hold_if_it_failed(entry, test)
        return test


def _judge(test: CouponTest, now: dt.datetime, shop_rule_pct: Decimal | None) -> None:
    """Refuse what can't be; otherwise hold the test against the limits of its day."""
    limits = _limits(test.coupon, test.happened_at, shop_rule_pct)
    refuse_if_blocked(
        rules.breaking_is_possible(test, now)
        + rules.limit_is_known(limits.wood_failure_pct)
    )
    test.least_wood_failure_pct = limits.wood_failure_pct or Decimal(0)
    test.least_strength_pa = limits.strength_pa
    test.limit_source = limits.source[:240]
    test.strength_pa = _strength(test.load_n, test.area_mm2)
    test.verdict = rules.verdict_of(test)


def _limits(
    coupon: Coupon, at: dt.datetime, shop_rule_pct: Decimal | None
) -> CouponLimits:
    limits = limits_for(coupon.mix, at)
    if limits.wood_failure_pct is not None or shop_rule_pct is None:
        return limits
    own = "shop's practice: stated with the test"
    source = f"{own}; {limits.source}" if limits.source else own
    return CouponLimits(shop_rule_pct, limits.strength_pa, source)


def _strength(load_n: Decimal | None, area_mm2: Decimal | None) -> float | None:
    if load_n is None or area_mm2 is None:
        return None
    return to_si(shear_strength(float(load_n), float(area_mm2)), "MPa")


def _hold_if_it_failed(entry: Entry, test: CouponTest) -> None:
    """Put the mix on hold, once: the hold reaches all that was glued with it."""
    mix = test.coupon.mix
    passed = test.verdict == CouponTest.Verdict.PASSED
    if passed or Hold.objects.standing().filter(mix=mix).exists():
        return
    reason = rules.failed_in_words(test)
    entry.add(hold_row(mix, reason=reason[:200], happened_at=test.happened_at))
