"""Lines of a trace: ready strings for a list, each with its shape and word."""

from dataclasses import dataclass

from django.utils.timezone import localtime

from records.models import Coupon, CouponTest, Deviation, PressLoad, Reading, SignOff
from records.queries.provenance.origin import Origin
from records.queries.subjects import called
from records.spelling.moments import day, when
from records.spelling.quantities import in_unit, pressure
from records.spelling.verdicts import Verdict
from records.web.shared.evidence import ReadingLine, reading_lines
from records.web.shared.pages import page_of

JOINT_SHAPES = {"inside": "inside", "outside": "outside", "unknown": "no_limit"}


@dataclass(frozen=True, slots=True)
class TraceLine:
    """One line: its heading, where that leads, what is said of it, and its verdict."""

    head: str
    url: str = ""
    about: str = ""
    verdict: str = ""
    word: str = ""


@dataclass(frozen=True, slots=True)
class StageReadings:
    """The readings of one stage, with their sum in a few words."""

    name: str
    sum: Verdict
    lines: list[ReadingLine]


def wood_lines(origin: Origin) -> list[TraceLine]:
    """Spell the laminations from the bottom up, then the numbers that fell out."""
    laid = [
        TraceLine(
            head=f"{piece.position}  {piece.number}",
            url=page_of(piece),
            about=f"board {piece.board}, lot {piece.board.lot} "
            f"{piece.board.lot.material}"
            f"{', turned end for end' if piece.turned else ''}",
        )
        for piece in origin.laminations
    ]
    void = [
        TraceLine(
            piece.number, page_of(piece), piece.void_reason, "void", "number void"
        )
        for piece in origin.void_laminations
    ]
    return laid + void


def joint_lines(origin: Origin) -> list[TraceLine]:
    """Spell each joint with its mix and the lots in it."""
    trace_lines = []
    for spread in origin.spreads:
        mix = spread.mix
        lots = [lot for lot in (mix.resin_lot, mix.hardener_lot) if lot is not None]
        names = ", ".join(f"{lot.material} lot {lot}" for lot in lots)
        trace_lines.append(
            TraceLine(
                head=f"Joint {spread.joint}: mix {mix}",
                url=page_of(mix),
                about=f"{spread.get_side_display()}, closed {when(spread.closed_at)}; "
                f"{names}",
                verdict=JOINT_SHAPES[spread.verdict],
                word=spread.get_verdict_display(),
            )
        )
    return trace_lines


def load_lines(origin: Origin) -> list[TraceLine]:
    """Spell each press load with its times and the lowest pressure seen."""
    return [_load_line(load, origin.lowest_pa.get(load.pk)) for load in origin.loads]


def _load_line(load: PressLoad, lowest_pa: float | None) -> TraceLine:
    until = f"until {when(load.off_at)}" if load.off_at else "still under pressure"
    seen = f", lowest seen {pressure(lowest_pa)}" if lowest_pa is not None else ""
    return TraceLine(
        head=f"Press load {load}",
        url=page_of(load),
        about=f"{load.press}, {when(load.on_at)} {until}{seen}",
    )


def coupon_lines(coupons: list[Coupon]) -> list[TraceLine]:
    """Spell every test of every coupon; one not tested yet waits."""
    trace_lines = []
    for coupon in coupons:
        tests = list(coupon.tests.all())
        trace_lines += [_test_line(coupon, test) for test in tests]
        if not tests:
            about = f"of mix {coupon.mix}"
            name = f"Coupon {coupon}"
            trace_lines.append(
                TraceLine(name, page_of(coupon), about, "waiting", "not tested")
            )
    return trace_lines


def _test_line(coupon: Coupon, test: CouponTest) -> TraceLine:
    passed = test.verdict == CouponTest.Verdict.PASSED
    return TraceLine(
        head=f"Coupon {coupon}",
        url=page_of(coupon),
        about=f"of mix {coupon.mix}, {in_unit(test.wood_failure_pct, '%')} wood "
        "failure, "
        f"{when(test.happened_at)}",
        verdict="inside" if passed else "outside",
        word=test.get_verdict_display(),
    )


def use_lines(origin: Origin) -> list[TraceLine]:
    """Spell what was put on after glue-up."""
    trace_lines = []
    for use in origin.uses:
        material = use.lot or use.mix
        if material is not None:
            name = called(material)
            about = f"{use.place}, {when(use.happened_at)}, {use.written_by.name}"
            trace_lines.append(
                TraceLine(f"{name[0].upper()}{name[1:]}", page_of(material), about)
            )
    return trace_lines


def signoff_lines(signoffs: list[SignOff]) -> list[TraceLine]:
    """Spell every signature with its meaning and the kind of check."""
    return [
        TraceLine(
            head=f"{signoff.stage.name}, {called(signoff.subject)}",
            about=f"{signoff.printed_name}, {when(signoff.happened_at)}: "
            f"{signoff.meaning} ({signoff.get_check_kind_display()})",
            verdict="ok",
            word="signed",
        )
        for signoff in signoffs
    ]


def deviation_lines(
    deviations: list[Deviation], urls: dict[int, str]
) -> list[TraceLine]:
    """Spell each deviation with what was decided."""
    return [
        TraceLine(
            head=f"{deviation.number}: {deviation.title}",
            url=urls[deviation.pk],
            about=_decided(deviation),
            verdict="waiting" if deviation.state == Deviation.State.OPEN else "ok",
            word=deviation.get_state_display(),
        )
        for deviation in deviations
    ]


def _decided(deviation: Deviation) -> str:
    kinds = [d.get_kind_display() for d in deviation.dispositions.all()]
    opened = f"opened {day(localtime(deviation.happened_at).date())}"
    return f"{opened}; {', '.join(kinds) or 'nothing decided yet'}"


def readings_by_stage(readings: list[Reading]) -> list[StageReadings]:
    """Group the readings that stand by stage, in the order of the route."""
    groups: dict[tuple[int, str], list[Reading]] = {}
    for reading in filter(stands, readings):
        stage = reading.characteristic.stage
        groups.setdefault((stage.order, stage.name), []).append(reading)
    return [
        StageReadings(name, sum_of(group), reading_lines(group))
        for (_, name), group in sorted(groups.items(), key=lambda item: item[0])
    ]


def stands(reading: Reading) -> bool:
    """Tell whether a reading was neither corrected nor withdrawn since."""
    withdrawn = reading.verdict == Reading.Verdict.WITHDRAWN
    return not withdrawn and not hasattr(reading, "corrected_by")


def sum_of(readings: list[Reading]) -> Verdict:
    """Sum readings up in words, and give the shape of the worst."""
    count = len(readings)
    number = f"{count} reading{'s' if count > 1 else ''}"
    for verdict in (Reading.Verdict.OUTSIDE, Reading.Verdict.UNDECIDED):
        bad = sum(reading.verdict == verdict for reading in readings)
        if bad:
            return Verdict(verdict.value, f"{number}, {bad} {verdict.label}")
    inside = any(r.verdict == Reading.Verdict.INSIDE for r in readings)
    return (
        Verdict("inside", f"{number}, none outside")
        if inside
        else Verdict("no_limit", number)
    )
