"""Joints and coupons as a page shows them: ready strings, no query."""

from typing import Any

from django.utils.timezone import localdate

from records.spelling.quantities import in_unit
from records.web.shared.parts import Fact
from records.models import Coupon, CouponTest, JointSpread
from records.rules.finding import warning
from records.spelling.moments import clock
from records.spelling.moments import day
from records.spelling.numbers import plain
from records.spelling.moments import when
from records.web.shared.pages import page_of

VERDICTS = {
    JointSpread.Verdict.INSIDE: "inside",
    JointSpread.Verdict.OUTSIDE: "outside",
    JointSpread.Verdict.UNKNOWN: "no_limit",
}
SIDES = {JointSpread.Side.LOWER: ", lower face", JointSpread.Side.UPPER: ", upper face"}


def joint_line(spread: JointSpread, *, with_blank: bool = False) -> dict[str, Any]:
    """Spell one line of a joint: which, with what, from when until when."""
    name = f"Joint {spread.joint}"
    return {
        "pk": spread.pk,
        "joint": spread.joint,
        "name": f"{name} of {spread.blank}" if with_blank else name,
        "url": page_of(spread.blank) if with_blank else "",
        "mix": "" if with_blank else f"mix {spread.mix}",
        "about": f"{joint_line_about(spread)}, {spread.written_by.name}",
        "verdict": VERDICTS[JointSpread.Verdict(spread.verdict)],
        "word": spread.get_verdict_display(),
        "flags": [warning(sentence) for sentence in spread.flags.splitlines()],
    }


def corrected_joint_line(spread: JointSpread) -> Fact:
    """Spell a line that was corrected, and why, as label and value."""
    line, later = joint_line_about(spread), spread.corrected_by
    name = f"Joint {spread.joint} with mix {spread.mix}"
    return Fact(name, f"{line}. Corrected by {later.written_by.name}: {later.reason}")


def joint_line_about(spread: JointSpread) -> str:
    """Spell when a joint was spread and closed, with how much."""
    span = f"{clock(spread.spread_at)} to {clock(spread.closed_at)}"
    side = SIDES.get(JointSpread.Side(spread.side), "")
    grams = f", {in_unit(spread.spread_g, 'g')}" if spread.spread_g else ""
    return f"{day(localdate(spread.spread_at))}, {span}{side}{grams}"


def coupon_line(coupon: Coupon) -> dict[str, str]:
    """Spell a coupon: its last test, or that it waits for one."""
    tests = list(coupon.tests.all())
    last = tests[-1] if tests else None
    passed = last is not None and last.verdict == CouponTest.Verdict.PASSED
    return {
        "number": coupon.number,
        "about": f"{coupon.wood}, made {when(coupon.made_at)}",
        "verdict": "waiting" if last is None else "ok" if passed else "outside",
        "word": "not tested yet" if last is None else last.get_verdict_display(),
        "detail": f"{len(tests)} tests" if len(tests) > 1 else "",
    }
