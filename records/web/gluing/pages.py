"""What a mix's page shows: is it as the sheet asks, where it went, its coupons."""

from typing import Any

from django.urls import reverse

from records.models import Coupon, Hold, Mix
from records.queries.boards import standing_readings
from records.queries.deviations.decided import is_accepted
from records.queries.files import attached_to
from records.queries.gluing.mixes import coupons_of, joints_with
from records.rules.finding import Finding, warning
from records.spelling.moments import duration, when
from records.spelling.numbers import plain
from records.spelling.quantities import both, temperature
from records.spelling.verdicts import Verdict
from records.web.shared.evidence import photo_lines, reading_lines
from records.web.shared.glue_lines import coupon_line, joint_line
from records.web.shared.hold_steps import hold_findings, hold_step, holds_of
from records.web.shared.pages import log_page, usual_actions
from records.web.shared.parts import Action, Fact

_SECONDS = 60


def mix_page(mix: Mix, disabled_reason: str) -> dict[str, Any]:
    """Gather the page of a mix.

    `disabled_reason` says why nothing may be written.
    """
    holds = holds_of(mix)
    flags = [warning(sentence) for sentence in mix.flags.splitlines()]
    coupons = coupons_of(mix)
    return {
        "mix": mix,
        "verdict": _verdict(holds, flags, accepted=is_accepted(mix)),
        "findings": [*hold_findings(holds, mix), *flags],
        "step": hold_step(holds, disabled_reason)
        or _next(mix, coupons, disabled_reason),
        "facts": _facts(mix),
        "joints": [joint_line(s, with_blank=True) for s in joints_with(mix)],
        "coupons": [coupon_line(coupon) for coupon in coupons],
        "readings": reading_lines(standing_readings("mix", mix.pk)),
        "photos": photo_lines(attached_to("mix", mix.pk)),
        "actions": _actions(mix, disabled_reason),
    }


def life_in_words(mix: Mix) -> str:
    """Say until when a mix can be used."""
    if mix.working_life_min is None:
        return "working life not known at this temperature"
    seconds = float(mix.working_life_min) * _SECONDS
    return f"working life {duration(seconds)}"


def _verdict(holds: list[Hold], flags: list[Finding], *, accepted: bool) -> Verdict:
    if holds:
        return Verdict("hold", "on hold", "")
    if flags and accepted:
        return Verdict("ok", "accepted by a decision", "flagged")
    if flags:
        return Verdict("undecided", "flagged", "a decision is needed")
    return Verdict("ok", "as the sheet asks", "")


def _next(mix: Mix, coupons: list[Coupon], disabled_reason: str) -> Action | None:
    if not coupons:
        return Action("Make a coupon", _coupon_page(mix), disabled_reason)
    waiting = [coupon for coupon in coupons if not coupon.tests.all()]
    if waiting:
        page = reverse("coupons:test", args=[waiting[0].number])
        return Action(f"Test coupon {waiting[0]}", page, disabled_reason)
    return None


def _facts(mix: Mix) -> list[Fact]:
    hardener = "water, or none"
    if mix.hardener_lot:
        hardener = f"lot {mix.hardener_lot} {mix.hardener_lot.material}"
    return [
        Fact("Glue", f"{mix.sheet.adhesive}, sheet {mix.sheet.revision}"),
        Fact("Resin", f"lot {mix.resin_lot}, {both(mix.resin_g, 'g')}"),
        Fact("Hardener", f"{hardener}, {both(mix.hardener_g, 'g')}"),
        Fact("Parts to 100 of resin, by mass", plain(mix.parts)),
        Fact("Mixed", when(mix.mixed_at)),
        Fact("Glue and room", temperature(mix.temperature_c)),
        Fact("Working life", life_in_words(mix).removeprefix("working life ")),
        Fact("Relative humidity", _unit(mix.humidity_pct, "%")),
        Fact("Stirred", _unit(mix.stirred_min, "min")),
        Fact("Written by", f"{mix.written_by.name}, {when(mix.written_at)}"),
    ]


def _unit(value: Any, unit: str) -> str:
    return "not noted" if value is None else f"{plain(value)} {unit}"


def _coupon_page(mix: Mix) -> str:
    return f"{reverse('coupons:make')}?mix={mix.number}"


def _actions(mix: Mix, disabled_reason: str) -> list[Action]:
    return [
        Action("Make a coupon", _coupon_page(mix), disabled_reason),
        Action("Log a reading", log_page(mix), disabled_reason),
        *usual_actions(mix, disabled_reason),
    ]
