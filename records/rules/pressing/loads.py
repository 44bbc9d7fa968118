"""What is found when a press closes and when it opens.

Closing and opening warn and flag; only what can't be true is refused.
"""

import datetime as dt
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from records.models import (
    Blank,
    GlueSheet,
    JointSpread,
    LoadedBlank,
    Material,
    Press,
    PressLoad,
)
from records.queries.gluing.times import GlueTables
from records.rules.finding import Finding, warning
from records.rules.gluing.joints import judge_closed_time
from records.rules.moments import already_happened
from records.spelling.moments import when
from records.spelling.quantities import in_unit, pressure

MOST_TIMES_THE_DRAWING = Decimal(2)
"""An area beyond this, or below its inverse of one blank, is a slip of the pen."""
AC_43_13 = "AC 43.13-1B, 1-10"
SOFTWOOD_PA, HARDWOOD_PA = (861_845, 1_034_214), (1_034_214, 1_378_951)
"""125 to 150 psi and 150 to 200 psi for resorcinol glue: AC 43.13-1B, 1-10."""

Verdict = LoadedBlank.Verdict


@dataclass(frozen=True, slots=True)
class PressureRange:
    """The pressure that every glue in a load bears [Pa], and what was found."""

    low_pa: Decimal
    high_pa: Decimal
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Waited:
    """What the closed assembly times of one blank come to."""

    verdict: LoadedBlank.Verdict
    flags: tuple[str, ...]


def load_is_possible(
    press: Press,
    blanks: Sequence[Blank],
    on_at: dt.datetime,
    pressed: Mapping[int, PressLoad],
    now: dt.datetime,
) -> list[Finding]:
    """Say what can't be true of a load; `pressed` names where blanks still are."""
    findings = already_happened(on_at, now, "on_at")
    if not press.in_use:
        findings.append(Finding(f"{press} is not in use any more.", "press"))
    if not blanks:
        findings.append(Finding("Name at least one blank.", "blanks"))
    if len({b.pk for b in blanks}) < len(blanks):
        findings.append(Finding("A blank is named twice.", "blanks"))
    ready = {Blank.State.GLUING, Blank.State.GLUED}
    for blank in blanks:
        if blank.pk in pressed:
            sentence = f"Blank {blank} is still in press load {pressed[blank.pk]}."
            findings.append(Finding(sentence, "blanks"))
        elif blank.state not in ready:
            state = blank.get_state_display()
            sentence = f"Blank {blank} is {state}: there is nothing to press."
            findings.append(Finding(sentence, "blanks"))
    return findings


def area_is_possible(area_mm2: Decimal, each_mm2: Collection[float]) -> list[Finding]:
    """Say why an area under pressure can't be that of these blanks' joints."""
    least = Decimal(min(each_mm2)) / MOST_TIMES_THE_DRAWING
    most = Decimal(sum(each_mm2)) * MOST_TIMES_THE_DRAWING
    if least <= area_mm2 <= most:
        return []
    return [
        Finding(
            f"{in_unit(float(area_mm2), 'mm2')} is a slip of the pen: the "
            "drawings of these blanks "
            f"give {in_unit(float(sum(each_mm2)), 'mm2')} side by side. Count the "
            "area of one joint "
            "a blank, not of every joint.",
            "glued_area_mm2",
        )
    ]


def press_is_free(held_by: PressLoad | None) -> list[Finding]:
    """Warn where the book still has a load in the press."""
    if held_by is None:
        return []
    return [
        warning(
            f"Press load {held_by} is in the book as still under pressure in this "
            "press. Note when it was opened."
        )
    ]


def range_for(sheets: Sequence[GlueSheet]) -> PressureRange | None:
    """Find the pressure that suits every glue; None without any glue.

    Where none suits them all the range is kept as it is, least above most, so that
    every sample shows as outside.
    """
    if not sheets:
        return None
    low = max(sheet.pressure_low_pa for sheet in sheets)
    high = min(sheet.pressure_high_pa for sheet in sheets)
    if low <= high:
        return PressureRange(low, high)
    each = "; ".join(
        f"{s.adhesive} {pressure(s.pressure_low_pa)} to {pressure(s.pressure_high_pa)}"
        for s in sheets
    )
    sentence = f"No pressure suits every glue in this load: {each}."
    return PressureRange(low, high, (warning(sentence),))


def wood_asks(sheets: Sequence[GlueSheet], woods: Sequence[Material]) -> list[str]:
    """Say what published text gives for these woods, where it does: resorcinol."""
    if not any("resorcinol" in sheet.adhesive.family.lower() for sheet in sheets):
        return []
    sentences = []
    for hard, name, (low, high) in (
        (False, "softwood", SOFTWOOD_PA),
        (True, "hardwood", HARDWOOD_PA),
    ):
        named = ", ".join(w.name for w in woods if w.hardwood is hard)
        if named:
            span = f"{pressure(low)} to {pressure(high)}"
            sentences.append(
                f"{named} is {name}: {AC_43_13} gives {span} for resorcinol."
            )
    return sentences


def judge_waiting(
    joints: Sequence[JointSpread],
    tables: Mapping[int, GlueTables],
    on_at: dt.datetime,
) -> Waited:
    """Hold the closed assembly time of every joint of a blank against its glue's."""
    flags: list[str] = []
    verdicts = set()
    for joint in joints:
        times = tables[joint.mix.sheet_id].at(float(joint.mix.temperature_c))
        pressed = on_at if on_at >= joint.closed_at else None
        judged = judge_closed_time(joint, times, pressed)
        verdicts.add(judged.verdict)
        flags += judged.flags
    if JointSpread.Verdict.OUTSIDE in verdicts:
        return Waited(Verdict.OUTSIDE, tuple(flags))
    if not verdicts or JointSpread.Verdict.UNKNOWN in verdicts:
        return Waited(Verdict.UNKNOWN, tuple(flags))
    return Waited(Verdict.INSIDE, tuple(flags))


def joints_are_all_closed(blank: Blank, joints: Sequence[JointSpread]) -> list[str]:
    """Say which joints of a blank have no glue in the book."""
    closed = {joint.joint for joint in joints}
    still = [str(j) for j in range(1, blank.revision.laminations) if j not in closed]
    return [f"Joint {', '.join(still)} of {blank} is not closed."] if still else []


def may_be_opened(
    load: PressLoad,
    off_at: dt.datetime,
    last_sample: dt.datetime | None,
    now: dt.datetime,
) -> list[Finding]:
    """Say why pressure can't have gone off then."""
    if load.off_at is not None:
        sentence = f"Press load {load} was opened at {when(load.off_at)}."
        return [Finding(sentence)]
    findings = already_happened(off_at, now, "off_at")
    if off_at <= load.on_at:
        sentence = f"Pressure went on at {when(load.on_at)}; it goes off after that."
        findings.append(Finding(sentence, "off_at"))
    elif last_sample is not None and off_at < last_sample:
        sentence = f"There is a sample of {when(last_sample)}, taken under pressure."
        findings.append(Finding(sentence, "off_at"))
    return findings


def press_has_its_figures(
    kind: str,
    rams: int | None,
    bore_mm: Decimal | None,
    nut_factor: Decimal | None,
    bag_area_ratio: Decimal | None,
) -> list[Finding]:
    """Say which figure of its kind a press lacks, or has beside it."""
    if kind not in Press.Kind.values:
        return [Finding("Choose what presses: rams, screws or a bag.", "kind")]
    needed = {
        Press.Kind.RAMS: {"rams", "bore_mm"},
        Press.Kind.SCREWS: {"rams", "bore_mm", "nut_factor"},
        Press.Kind.BAG: {"bag_area_ratio"},
    }.get(Press.Kind(kind), set())
    given = {
        "rams": rams,
        "bore_mm": bore_mm,
        "nut_factor": nut_factor,
        "bag_area_ratio": bag_area_ratio,
    }
    label = Press.Kind(kind).label
    findings = []
    for field, value in given.items():
        if field in needed and (value is None or value <= 0):
            findings.append(
                Finding(f"A press with {label} needs this, above 0.", field)
            )
        elif field not in needed and value is not None:
            findings.append(Finding(f"A press with {label} has none. Empty it.", field))
    return findings
