"""What can't be true of a coupon or its test, and what a test comes to."""

import datetime as dt
from decimal import Decimal

from records.models import CouponTest, Mix
from records.rules.finding import Finding
from records.rules.moments import already_happened
from records.spelling.moments import when
from records.spelling.quantities import in_unit, pressure

SHOP_WOOD_FAILURE_PCT = Decimal(75)
"""Proposed where no route has a limit: common practice, no source."""
LARGEST_AREA_MM2 = Decimal(20_000)
LARGEST_LOAD_N = Decimal(500_000)
"""A block or a testing machine beyond these is a slip of the pen (own choice)."""


def coupon_is_possible(
    mix: Mix, made_at: dt.datetime, now: dt.datetime
) -> list[Finding]:
    """Say what can't be true of a coupon."""
    findings = already_happened(made_at, now, "made_at")
    if made_at < mix.mixed_at:
        sentence = f"Mix {mix} was made at {when(mix.mixed_at)}; this is before."
        findings.append(Finding(sentence, "made_at"))
    return findings


def breaking_is_possible(test: CouponTest, now: dt.datetime) -> list[Finding]:
    """Say what can't be true of a test that is about to be written."""
    findings = already_happened(test.happened_at, now)
    if test.happened_at < test.coupon.made_at:
        sentence = f"Coupon {test.coupon} was made at {when(test.coupon.made_at)}."
        findings.append(Finding(f"{sentence} It is broken after that.", "happened_at"))
    if not 0 <= test.wood_failure_pct <= 100:  # noqa: PLR2004 - percent
        sentence = "Wood failure lies between 0 and 100 %."
        findings.append(Finding(sentence, "wood_failure_pct"))
    return findings + _block_is_possible(test.load_n, test.area_mm2)


def limit_is_known(least_wood_failure_pct: Decimal | None) -> list[Finding]:
    """Say that there is nothing to hold the wood failure against."""
    if least_wood_failure_pct is not None:
        return []
    return [
        Finding(
            "No route has a limit for wood failure. State the shop's own rule, "
            f"such as {in_unit(SHOP_WOOD_FAILURE_PCT, '%')} (common practice, no "
            "source).",
            "least_wood_failure_pct",
        )
    ]


def verdict_of(test: CouponTest) -> CouponTest.Verdict:
    """Pass a test that is at or above every limit it can be held against."""
    if torn_enough(test) and strong_enough(test):
        return CouponTest.Verdict.PASSED
    return CouponTest.Verdict.FAILED


def torn_enough(test: CouponTest) -> bool:
    """Tell whether enough of the glue line failed in the wood."""
    return test.wood_failure_pct >= test.least_wood_failure_pct


def strong_enough(test: CouponTest) -> bool:
    """Tell whether the joint was strong enough, where both figures are known."""
    if test.strength_pa is None or test.least_strength_pa is None:
        return True
    return test.strength_pa >= test.least_strength_pa


def failed_in_words(test: CouponTest) -> str:
    """Say why a test failed."""
    reasons = []
    if not torn_enough(test):
        shown = in_unit(test.wood_failure_pct, "%")
        least = in_unit(test.least_wood_failure_pct, "%")
        reasons.append(f"{shown} wood failure, at least {least} is asked")
    if not strong_enough(test):
        shown, least = pressure(test.strength_pa), pressure(test.least_strength_pa)
        reasons.append(f"{shown} shear strength, at least {least} is asked")
    return f"Coupon {test.coupon} failed: {'; '.join(reasons)}."


def _block_is_possible(
    load_n: Decimal | None, area_mm2: Decimal | None
) -> list[Finding]:
    if load_n is None and area_mm2 is None:
        return []
    if load_n is None or area_mm2 is None:
        field = "load_n" if load_n is None else "area_mm2"
        return [Finding("Strength needs both the load and the glued area.", field)]
    findings = []
    if not 0 <= load_n <= LARGEST_LOAD_N:
        sentence = f"The load lies between 0 and {LARGEST_LOAD_N} N. Check the unit."
        findings.append(Finding(sentence, "load_n"))
    if not 0 < area_mm2 <= LARGEST_AREA_MM2:
        sentence = (
            f"The area is above 0 and at most {in_unit(LARGEST_AREA_MM2, 'mm2')}."
        )
        findings.append(Finding(f"{sentence} Check the unit.", "area_mm2"))
    return findings
