"""What was checked and decided of a build, as plain facts for its conformity record."""

import datetime as dt
from typing import Any

from records.models import Disposition
from records.queries.builds.progress import Progress
from records.queries.conformity.measurements import moment, number
from records.queries.conformity.release import gauges_read
from records.queries.deviations.concessions import ACCEPTING


def coupon_facts(progress: Progress) -> list[dict[str, Any]]:
    """Spell every test of the coupons of the mixes in a build, failed ones too."""
    mixes = {mix.pk: mix.number for mix in progress.provenance.mixes}
    return [
        {
            "coupon": coupon.number,
            "mix": mixes[coupon.mix_id],
            "age_h": _hours(test.happened_at - coupon.made_at),
            "method": test.method,
            "wood_failure_pct": number(test.wood_failure_pct),
            "least_wood_failure_pct": number(test.least_wood_failure_pct),
            "strength_pa": _pascals(test.strength_pa),
            "least_strength_pa": _pascals(test.least_strength_pa),
            "verdict": test.verdict,
        }
        for coupon in progress.provenance.coupons
        for test in coupon.tests.all()
    ]


def instrument_facts(progress: Progress) -> list[dict[str, Any]]:
    """Spell each gauge that was read, with its calibration at its last reading."""
    newest: dict[str, dict[str, Any]] = {}
    for read in sorted(gauges_read(progress), key=lambda r: r.on):
        calibration = read.calibration
        newest[read.gauge.number] = {
            "gauge": read.gauge.number,
            "name": read.gauge.name,
            "calibrated_on": calibration and calibration.done_on.isoformat(),
            "due_on": calibration and calibration.next_due_on.isoformat(),
            "last_read_on": read.on.isoformat(),
        }
    return [newest[key] for key in sorted(newest)]


def concession_facts(progress: Progress) -> list[dict[str, Any]]:
    """Spell what was accepted although outside, in the words for the customer."""
    accepted = progress.states[0].evidence.accepted if progress.states else []
    decided = (
        Disposition.objects.filter(
            kind__in=ACCEPTING, disposed__subject__in=[s.pk for s in accepted]
        )
        .select_related("deviation")
        .distinct()
        .order_by("deviation__number", "pk")
    )
    return [
        {
            "number": disposition.deviation.number,
            "decision": disposition.get_kind_display(),
            "words": disposition.plain_words,
            "accepted_by": disposition.design_authority,
            "at": moment(disposition.happened_at),
        }
        for disposition in decided
    ]


def inspection_facts(progress: Progress) -> dict[str, Any]:
    """Spell by whom the last stage was signed and what kind of check it was.

    The weakest kind among the stages signed on the propeller is spelled as well: it
    is printed as it was.
    """
    signed = [s.signed for s in progress.states if s.signed]
    if not signed:
        return {"inspector": None, "kind": None, "kinds": []}
    last = signed[-1]
    own = [s.signed for s in progress.states if s.kind == "propeller" and s.signed]
    kinds: dict[str, list[str]] = {}
    for signoff in own:
        kinds.setdefault(signoff.get_check_kind_display(), []).append(
            signoff.stage.name
        )
    return {
        "inspector": last.printed_name,
        "stage": last.stage.name,
        "meaning": last.meaning,
        "kind": last.get_check_kind_display(),
        "at": moment(last.happened_at),
        "digest": last.digest,
        "kinds": [{"kind": kind, "stages": names} for kind, names in kinds.items()],
    }


def _hours(age: dt.timedelta) -> int:
    return round(age / dt.timedelta(hours=1))


def _pascals(value: float | None) -> str | None:
    return None if value is None else f"{value:.0f}"
