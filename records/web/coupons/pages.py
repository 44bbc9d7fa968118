"""What a coupon's page shows: its tests beside each other, what it speaks for."""

from typing import Any

from django.urls import reverse

from records.models import Coupon, CouponTest, Hold
from records.queries.boards import standing_readings
from records.queries.coupons import joints_covered, tests_of
from records.queries.deviations.decided import is_accepted
from records.queries.files import attached_to
from records.spelling.moments import duration, when
from records.spelling.quantities import in_unit, pressure
from records.spelling.verdicts import Verdict
from records.web.shared.evidence import photo_lines, reading_lines
from records.web.shared.hold_steps import hold_findings, hold_step, holds_of
from records.web.shared.pages import deviation_page, log_page, usual_actions
from records.web.shared.parts import Action, Fact

Result = CouponTest.Verdict


def coupon_page(coupon: Coupon, disabled_reason: str) -> dict[str, Any]:
    """Gather the page of a coupon.

    `disabled_reason` says why nothing may be written.
    """
    tests = tests_of(coupon)
    holds = holds_of(coupon)
    covered = joints_covered(coupon.mix)
    blanks = [blank for blank, _ in covered]
    return {
        "coupon": coupon,
        "verdict": _verdict(tests, holds, accepted=_accepted(coupon)),
        "findings": hold_findings(holds, coupon),
        "step": hold_step(holds, disabled_reason)
        or _next(coupon, tests, blanks, disabled_reason),
        "tests": [_test(coupon, test) for test in tests],
        "facts": _facts(coupon),
        "covered": [(f"Blank {blank}", _joints(joints)) for blank, joints in covered],
        "readings": reading_lines(standing_readings("coupon", coupon.pk)),
        "photos": photo_lines(attached_to("coupon", coupon.pk)),
        "actions": _actions(coupon, disabled_reason),
    }


def _joints(numbers: list[int]) -> str:
    word = "joints" if len(numbers) > 1 else "joint"
    return f"{word} {', '.join(map(str, numbers))}"


def _accepted(coupon: Coupon) -> bool:
    return is_accepted(coupon) or is_accepted(coupon.mix)


def _verdict(tests: list[CouponTest], holds: list[Hold], *, accepted: bool) -> Verdict:
    if holds:
        return Verdict("hold", "on hold", "")
    if not tests:
        return Verdict("waiting", "not tested yet", "")
    verdicts = {test.verdict for test in tests}
    if verdicts == {Result.PASSED}:
        return Verdict("ok", "passed", "")
    if accepted:
        return Verdict("ok", "accepted by a decision", "failed")
    late = "passed once; a decision is needed" if Result.PASSED in verdicts else ""
    return Verdict("outside", "failed", late)


def _next(
    coupon: Coupon, tests: list[CouponTest], blanks: list[str], disabled_reason: str
) -> Action | None:
    if tests and tests[-1].verdict == Result.FAILED:
        return Action("Open a deviation", deviation_page(coupon), disabled_reason)
    if not tests:
        page = reverse("coupons:test", args=[coupon.number])
        return Action("Test it", page, disabled_reason)
    if not blanks:
        return None
    return Action(
        f"Go on with blank {blanks[0]}", reverse("builds:blank", args=blanks[:1])
    )


def _facts(coupon: Coupon) -> list[Fact]:
    return [
        Fact("Mix", f"{coupon.mix}, {coupon.mix.sheet.adhesive}"),
        Fact("Wood of the offcuts", coupon.wood),
        Fact("Made", when(coupon.made_at)),
        Fact("Where its twin is kept", coupon.twin_place or "no twin noted"),
    ]


def _test(coupon: Coupon, test: CouponTest) -> dict[str, Any]:
    age = duration((test.happened_at - coupon.made_at).total_seconds())
    strength = f", {pressure(test.strength_pa)}" if test.strength_pa else ""
    least = f"at least {in_unit(test.least_wood_failure_pct, '%')}"
    if test.least_strength_pa is not None:
        least += f" and {pressure(test.least_strength_pa)}"
    passed = test.verdict == Result.PASSED
    note = f" {test.note}" if test.note else ""
    return {
        "figure": f"{in_unit(test.wood_failure_pct, '%')} wood failure{strength}",
        "about": f"at an age of {age}, {test.method}. {when(test.happened_at)}, "
        f"{test.written_by.name}.{note}",
        "limit": f"{least}: {test.limit_source}",
        "verdict": "ok" if passed else "outside",
        "word": test.get_verdict_display(),
    }


def _actions(coupon: Coupon, disabled_reason: str) -> list[Action]:
    at = [coupon.number]
    return [
        Action("Test it", reverse("coupons:test", args=at), disabled_reason),
        Action("Log a reading", log_page(coupon), disabled_reason),
        *usual_actions(coupon, disabled_reason),
    ]
