"""Whether the pressure was held, and long enough, for the glue in a press load."""

import datetime as dt

from records.engineering.curing import Cure
from records.queries.pressing.history import PressHistory
from records.rules.finding import Finding
from records.spelling.moments import clock, duration
from records.spelling.quantities import percent, pressure


def load_is_sound(history: PressHistory) -> list[Finding]:
    """Say all that was not as the glue asks, from pressure on until now."""
    return [
        *pressure_held(history),
        *pressure_not_above(history),
        *cured_when_opened(history),
    ]


def pressure_held(history: PressHistory) -> list[Finding]:
    """Say where the pressure was too low while the glue cured."""
    least = pressure(history.load.pressure_low_pa)
    if history.lowest_pa is None:
        return [Finding("No pressure was sampled.")]
    if history.reached_at is None:
        still = "has not reached" if history.load.off_at is None else "never reached"
        highest = pressure(history.highest_pa)
        return [Finding(f"The pressure {still} {least}; the highest was {highest}.")]
    return [
        Finding(
            f"Pressure below {least} from {clock(dip.start)} to {clock(dip.end)} "
            f"({duration(dip.duration_s)}{'' if dip.ended else ' or longer'}), "
            f"lowest {pressure(dip.lowest_pa)}."
        )
        for dip in history.dips
        if dip.matters
    ]


def pressure_not_above(history: PressHistory) -> list[Finding]:
    """Say that the pressure was higher than the glue bears."""
    most = history.load.pressure_high_pa
    if history.highest_pa is None or history.highest_pa <= float(most):
        return []
    findings = f"The pressure went up to {pressure(history.highest_pa)}"
    return [Finding(f"{findings}; the most is {pressure(most)}.")]


def cured_when_opened(history: PressHistory) -> list[Finding]:
    """Say that the press was opened too early, or that nobody can tell."""
    if history.load.off_at is None:
        return []
    unknown = [glue.unknown for glue in history.cures if glue.unknown]
    findings = [Finding(f"Cure not known. {why}") for why in unknown]
    return findings + opened_too_early(history)


def opened_too_early(history: PressHistory) -> list[Finding]:
    """Say which glue had not had its press time when the press was opened."""
    off_at = history.load.off_at
    if off_at is None:
        return []
    return [
        Finding(_early(glue.sheet.adhesive.name, glue.cure))
        for glue in history.cures
        if glue.cure and not (glue.opening_at and glue.opening_at <= off_at)
    ]


def not_held_or_cured(history: PressHistory) -> list[tuple[str, dt.datetime]]:
    """Say what a load must be held for, and since when; nothing that is unknown.

    While a press still comes up to pressure nothing has gone wrong yet.
    """
    load = history.load
    if not history.samples:
        return []
    held = pressure_held(history)
    dips = [dip for dip in history.dips if dip.matters]
    if history.reached_at is None:
        never_up = load.off_at is not None
        return [(held[0].sentence, load.on_at)] if never_up else []
    not_held = [(f.sentence, dip.start) for f, dip in zip(held, dips, strict=True)]
    off_at = load.off_at or load.on_at
    return not_held + [(f.sentence, off_at) for f in opened_too_early(history)]


def _early(glue: str, cure: Cure) -> str:
    out = cure.too_cold_s + cure.too_hot_s
    lost = f" {duration(out)} outside its table do not count." if out else ""
    done = f"{percent(cure.fraction)}"
    return f"Opened with {done} of the press time of {glue} reached.{lost}"
