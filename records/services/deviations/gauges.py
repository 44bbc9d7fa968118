"""A gauge found out of tolerance: one deviation, with holds on what is in the shop."""

import datetime as dt

from records.engineering.gauge_error import Effect
from records.models import Calibration, Deviation, Propeller
from records.queries.gauges.impact import Impact, JudgedAgain, impact_of
from records.queries.trace.serials import ranges
from records.rules.deviations.opening import Touched
from records.rules.gauges.deviations import gauge_deviation_may_open
from records.rules.moments import already_happened
from records.services.deviations.opening import touch
from records.services.ledger import Act, Entry
from records.services.numbers import next_number
from records.services.refusal import refuse_if_blocked
from records.spelling.moments import day, when
from records.spelling.quantities import in_unit


def open_gauge_deviation(
    *, act: Act, calibration: Calibration, happened_at: dt.datetime
) -> Deviation:
    """Open one deviation about a gauge that a calibration found out of tolerance.

    It names the gauge, every reading in doubt, and every delivered serial that such a
    reading reaches, each for a decision. What is in the shop is put on hold. The
    verdicts of the day stay as they are.
    """
    with Entry(act, "open gauge deviation") as entry:
        calibration = Calibration.objects.select_related("gauge").get(pk=calibration.pk)
        refuse_if_blocked(
            [
                *already_happened(happened_at, act.at),
                *gauge_deviation_may_open(calibration),
            ]
        )
        impact = impact_of(calibration)
        deviation = entry.add(
            Deviation(
                number=next_number("deviation", act.at),
                title=f"Gauge {calibration.gauge.number} found out of tolerance",
                required=_required(calibration),
                found=_found(impact),
                happened_at=happened_at,
            )
        )
        entry.subject = deviation.number
        doubtful = [_touched(line) for line in impact.affected]
        gone = [Touched(p) for p in _out_of_the_shop(impact)]
        things = [Touched(calibration.gauge), *doubtful, *gone]
        touch(entry, deviation, _once(things), held=_in_the_shop(impact))
        return deviation


def _touched(line: JudgedAgain) -> Touched:
    reading = line.reading
    joint = reading.joint if reading and line.key[0] == "blank" else None
    return Touched(line.thing, joint=joint, reading=reading)


def _once(things: list[Touched]) -> list[Touched]:
    return list({(t.thing, t.joint, t.reading): t for t in things}.values())


def _out_of_the_shop(impact: Impact) -> list[Propeller]:
    """Give the propellers to review that no reading in doubt is about directly."""
    named = {key for key in impact.reached if key[0] == "propeller"}
    gone = [d.pk for d in impact.serials if not d.in_shop]
    others = [pk for pk in gone if ("propeller", pk) not in named]
    return list(Propeller.objects.filter(pk__in=others).order_by("serial", "pk"))


def _in_the_shop(impact: Impact) -> list[Touched]:
    """Give what to hold: all in doubt but what has left the shop altogether."""
    held = []
    for line in impact.affected:
        reached = impact.reached.get(line.key, [])
        if not reached or any(d.in_shop for d in reached):
            held.append(Touched(line.thing, joint=_touched(line).joint))
    return held


def _required(calibration: Calibration) -> str:
    allowed = in_unit(calibration.permissible_error, calibration.unit)
    return f"Greatest error allowed of gauge {calibration.gauge}: {allowed}."


def _found(impact: Impact) -> str:
    calibration, (start, until) = impact.calibration, impact.span
    since = f"from {when(start)}" if start else "from its first reading"
    counts = ", ".join(f"{impact.count(e)} {e}" for e in Effect)
    rest = impact.count(None)
    gone = ranges(d.serial for d in impact.serials if not d.in_shop)
    return (
        f"Error as found on {day(calibration.done_on)}: "
        f"{in_unit(calibration.as_found_error, calibration.unit)} "
        f"(certificate {calibration.certificate}).\n"
        f"{len(impact.lines)} readings and press loads {since} to {when(until)}: "
        f"{counts}, {rest} not to be told by arithmetic.\n"
        f"Delivered, to be reviewed: {', '.join(gone) or 'none'}."
    )
