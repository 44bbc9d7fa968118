"""Mixing glue, and closing joints with it: warned and flagged, never stopped."""

import datetime as dt
from collections.abc import Iterable, Sequence
from decimal import Decimal

from records.models import Blank, GlueSheet, JointSpread, Lot, Mix
from records.queries.builds.register import species_allowed, stack_of
from records.queries.gluing import mixes as queries
from records.queries.gluing.area import joint_areas_mm2
from records.queries.gluing.times import GlueTables, table_of
from records.rules.builds.stacking import stack_is_whole
from records.rules.finding import Finding, warning
from records.rules.gluing import joints, mixing
from records.services.ledger import Act, Entry
from records.services.numbers import next_number
from records.services.refusal import refuse, refuse_if_blocked

_THOUSANDTH = Decimal("0.001")
_HUNDREDTH = Decimal("0.01")
_SECONDS = 60


def mix_glue(
    *,
    act: Act,
    sheet: GlueSheet,
    resin_lot: Lot,
    resin_g: Decimal,
    hardener_g: Decimal,
    mixed_at: dt.datetime,
    temperature_c: Decimal,
    hardener_lot: Lot | None = None,
    stirred_min: Decimal | None = None,
    humidity_pct: Decimal | None = None,
) -> Mix:
    """Write down a mix of glue, with everything found about it as its flags.

    Masses in grams, temperature in °C, humidity in %, stirring in minutes. Raises
    `Refusal` for what can't be true and for lots that were never accepted.
    """
    mix = Mix(
        sheet=sheet,
        resin_lot=resin_lot,
        hardener_lot=hardener_lot,
        resin_g=resin_g,
        hardener_g=hardener_g,
        mixed_at=mixed_at,
        temperature_c=temperature_c,
        stirred_min=stirred_min,
        humidity_pct=humidity_pct,
    )
    with Entry(act, "mix glue") as entry:
        refuse_if_blocked(mixing.mix_is_possible(mix, act.at))
        tables = table_of(sheet.pk)
        warnings = mixing.mix_as_the_sheet_asks(
            mix, tables, queries.newest_sheet(sheet)
        )
        warnings += mixing.lots_held(mix)
        mix.parts = _parts(mix)
        mix.working_life_min = _working_life(mix, tables)
        mix.flags = _lines(f.sentence for f in warnings)
        mix.number = next_number("mix", mixed_at)
        entry.subject = mix.number
        return entry.add(mix)


def close_joint(
    *,
    act: Act,
    blank: Blank,
    joint: int,
    mix: Mix,
    spread_at: dt.datetime,
    closed_at: dt.datetime,
    side: str = JointSpread.Side.BOTH,
    spread_g: Decimal | None = None,
) -> JointSpread:
    """Write down that a mix was spread in a joint, and when the joint was closed.

    Whatever is late or missing becomes a flag: with wet glue on the wood nothing is
    refused but what can't be true. The first joint puts the blank in glue-up.
    """
    spread = JointSpread(
        joint=joint,
        mix=mix,
        side=side,
        spread_at=spread_at,
        closed_at=closed_at,
        spread_g=spread_g,
    )
    with Entry(act, "close joint") as entry:
        blank = _blank(blank)
        entry.subject = f"{blank} joint {joint}"
        spread.blank = blank
        begun = _begin(entry, blank)
        return entry.add(_judged(spread, act.at, begun))


def correct_joint(
    *,
    act: Act,
    spread: JointSpread,
    reason: str,
    joint: int,
    mix: Mix,
    side: str,
    spread_at: dt.datetime,
    closed_at: dt.datetime,
    spread_g: Decimal | None = None,
) -> JointSpread:
    """Write a joint anew, with the reason; the old line stays readable."""
    with Entry(act, "correct joint") as entry:
        blank = _blank(spread.blank)
        entry.subject = f"{blank} joint {joint}"
        if JointSpread.objects.filter(corrects=spread.pk).exists():
            raise refuse("This line was corrected already. Correct the newer one.")
        if not reason.strip():
            raise refuse("Say why the joint is corrected.", "reason")
        corrected = JointSpread(
            blank=blank,
            joint=joint,
            mix=mix,
            side=side,
            spread_at=spread_at,
            closed_at=closed_at,
            spread_g=spread_g,
            corrects=spread,
            reason=reason,
        )
        return entry.add(_judged(corrected, act.at, []))


def _blank(blank: Blank) -> Blank:
    return Blank.objects.select_related("revision__design").get(pk=blank.pk)


def _begin(entry: Entry, blank: Blank) -> list[Finding]:
    """Put a blank in glue-up, and warn of what its stack still lacked."""
    if blank.state != Blank.State.STACKING:
        return []
    lacking = stack_is_whole(blank, stack_of(blank), species_allowed(blank.revision))
    entry.change(blank, state=Blank.State.GLUING)
    return [warning(finding.sentence) for finding in lacking]


def _judged(spread: JointSpread, now: dt.datetime, begun: list[Finding]) -> JointSpread:
    """Refuse what can't be; otherwise set verdict and flags."""
    standing = [s for s in queries.joints_of(spread.blank) if s != spread.corrects]
    refuse_if_blocked(
        joints.glue_may_still_go_on(spread.blank)
        + joints.joint_is_possible(spread, standing, now)
    )
    times = table_of(spread.mix.sheet_id).at(float(spread.mix.temperature_c))
    judged = joints.judge_times(spread, times, queries.pressures_on(spread.blank))
    more = [*(f.sentence for f in begun), *_masses(spread, standing)]
    spread.verdict = JointSpread.Verdict.OUTSIDE if more else judged.verdict
    spread.flags = _lines([*judged.flags, *more])
    return spread


def _masses(spread: JointSpread, standing: Sequence[JointSpread]) -> list[str]:
    """Hold the glue in the joint against the sheet, and all of it against the mix."""
    if spread.spread_g is None:
        return []
    here = [s.spread_g for s in standing if s.joint == spread.joint and s.spread_g]
    on_joint = [float(g) for g in (*here, spread.spread_g)]
    revision = spread.blank.revision
    area = joint_areas_mm2([revision])[revision.pk]
    used = queries.grams_spread(spread.mix)
    used.pop(spread.corrects_id or 0, None)
    total = sum(used.values()) + float(spread.spread_g)
    return [
        *joints.spread_is_enough(spread, sum(on_joint), area),
        *joints.mix_is_enough(spread.mix, total),
    ]


def _parts(mix: Mix) -> Decimal:
    return (100 * mix.hardener_g / mix.resin_g).quantize(_THOUSANDTH)


def _working_life(mix: Mix, tables: GlueTables) -> Decimal | None:
    seconds = tables.at(float(mix.temperature_c)).working_life_s
    if seconds is None:
        return None
    return (Decimal(repr(seconds)) / _SECONDS).quantize(_HUNDREDTH)


def _lines(sentences: Iterable[str]) -> str:
    return "\n".join(sentences)
