"""What a thing was made of, in tables: one list for screen, paper and export."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db.models import Model

from records.models import (
    Coupon,
    CouponTest,
    JointSpread,
    Lamination,
    LoadedBlank,
    Mix,
)
from records.queries.provenance.made_of import Provenance
from records.queries.provenance.written import Pressed, Written
from records.spelling.moments import duration, when
from records.spelling.numbers import NOTHING, plain
from records.spelling.quantities import in_unit, mass, pressure, temperature
from records.spelling.verdicts import INSIDE, NO_LIMIT, OUTSIDE, VOID, WAITING, Verdict

_JOINTS = {"inside": INSIDE, "outside": OUTSIDE, "unknown": NO_LIMIT}


@dataclass(frozen=True, slots=True)
class Row:
    """A row of words; `thing` is what it is about, `verdict` what was found of it."""

    cells: Sequence[str]
    thing: Model | None = None
    verdict: Verdict | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of words under their columns.

    The first `names` cells of a row name it. `shares` weighs the columns' widths. Where
    `judged`, the last column is the verdict in words.
    """

    title: str
    columns: Sequence[str]
    shares: Sequence[int]
    rows: Sequence[Row]
    names: int = 1
    judged: bool = False


def tables_of(made: Provenance, written: Written) -> list[Table]:
    """Give every table of what a thing was made of, an empty one too."""
    return [
        laminations(made),
        voided(made),
        mixes(made),
        joints(made),
        loads(made, written),
        coupons(made),
        uses(made),
    ]


def laminations(made: Provenance) -> Table:
    """List the pieces in the stack from the bottom, with where they came from."""
    return Table(
        "Laminations, from the bottom",
        ("Place", "Lamination", "Wood", "Mass", "Board", "Lot", "Bought as", "Laid"),
        (1, 3, 3, 4, 2, 2, 5, 2),
        [Row(_lamination(piece), piece) for piece in made.laminations],
        names=2,
    )


def voided(made: Provenance) -> Table:
    """List the numbers that fell out of the boards used: they explain the gaps."""
    return Table(
        "Numbers that fell out",
        ("Lamination", "Board", "Why", "Stands"),
        (3, 2, 6, 2),
        [
            Row((v.number, v.board.number, v.void_reason, "void"), v, Verdict(VOID))
            for v in made.voided
        ],
        judged=True,
    )


def mixes(made: Provenance) -> Table:
    """List the mixes with their lots, masses, time and temperature."""
    return Table(
        "Mixes",
        (
            *("Mix", "Glue", "Lots", "Resin + hardener", "To 100 of resin"),
            *("At", "Mixed", "Flagged"),
        ),
        (2, 4, 3, 4, 2, 3, 4, 5),
        [Row(_mix(mix), mix) for mix in made.mixes],
    )


def joints(made: Provenance) -> Table:
    """List the joints with their glue, times and verdict."""
    return Table(
        "Joints",
        ("Joint", "Mix", "On", "First glue", "Closed", "Glue", "By", "Verdict"),
        (1, 2, 2, 4, 4, 2, 3, 5),
        [_joint(spread) for spread in made.spreads],
        judged=True,
    )


def loads(made: Provenance, written: Written) -> Table:
    """List the loads of the press that the blank was in."""
    rows = [
        Row(_load(row, written.pressed.get(row.load_id, Pressed())), row.load)
        for row in made.loaded
    ]
    columns = (
        *("Load", "Press", "Pressure on", "Pressure off", "Asked at the glue line"),
        *("Seen at the glue line", "Samples", "Flagged"),
    )
    return Table("Press loads", columns, (2, 3, 4, 4, 4, 4, 2, 5), rows)


def coupons(made: Provenance) -> Table:
    """List every test of every coupon, failed ones too; one not tested yet waits."""
    columns = (
        *("Coupon", "Mix", "Broken", "Age", "How", "Wood failure", "Shear", "Twin"),
        "Verdict",
    )
    rows = [row for coupon in made.coupons for row in _coupon(coupon)]
    return Table("Coupons", columns, (2, 2, 4, 2, 4, 4, 4, 2, 2), rows, judged=True)


def uses(made: Provenance) -> Table:
    """List what was put on after glue-up."""
    rows = [
        Row(
            (
                f"lot {use.lot}" if use.lot else f"mix {use.mix}",
                use.lot.material.name if use.lot else "glue",
                use.place,
                when(use.happened_at),
                use.written_by.name,
            ),
            use.lot or use.mix,
        )
        for use in made.uses
    ]
    columns = ("Lot or mix", "Material", "Where", "When", "By")
    return Table("Put on after glue-up", columns, (2, 4, 5, 4, 3), rows)


def _lamination(piece: Lamination) -> Sequence[str]:
    lot = piece.board.lot
    return (
        str(piece.position),
        piece.number,
        lot.material.name,
        mass(piece.mass_g),
        piece.board.number,
        lot.number,
        f"{lot.supplier or 'supplier unknown'}, {lot.supplier_lot or 'lot unknown'}",
        "turned end for end" if piece.turned else "as sawn",
    )


def _mix(mix: Mix) -> Sequence[str]:
    return (
        mix.number,
        mix.sheet.adhesive.name,
        ", ".join(lot.number for lot in (mix.resin_lot, mix.hardener_lot) if lot),
        f"{in_unit(mix.resin_g, 'g')} + {in_unit(mix.hardener_g, 'g')}",
        plain(mix.parts),
        temperature(mix.temperature_c),
        when(mix.mixed_at),
        _flags(mix.flags) or NOTHING,
    )


def _joint(spread: JointSpread) -> Row:
    word = str(spread.get_verdict_display())
    cells = (
        str(spread.joint),
        spread.mix.number,
        str(spread.get_side_display()),
        when(spread.spread_at),
        when(spread.closed_at),
        in_unit(spread.spread_g, "g"),
        spread.written_by.name,
        "; ".join([word, *spread.flags.splitlines()]),
    )
    verdict = Verdict(_JOINTS[spread.verdict], word, _flags(spread.flags))
    return Row(cells, spread.mix, verdict)


def _load(row: LoadedBlank, seen: Pressed) -> Sequence[str]:
    load = row.load
    return (
        load.number,
        load.press.name,
        when(load.on_at),
        when(load.off_at),
        f"{pressure(load.pressure_low_pa)} to {pressure(load.pressure_high_pa)}",
        f"{pressure(seen.lowest_pa)} to {pressure(seen.highest_pa)}"
        if seen.samples
        else NOTHING,
        str(seen.samples),
        _flags(load.flags, load.opened_flags) or NOTHING,
    )


def _coupon(coupon: Coupon) -> Iterable[Row]:
    tests = list(coupon.tests.all())
    for test in tests:
        yield Row(_test(coupon, test), coupon, verdict_of_test(test))
    if not tests:
        twin, nothing = coupon.twin_place or NOTHING, [NOTHING] * 5
        word = "not tested"
        cells = (coupon.number, coupon.mix.number, *nothing, twin, word)
        yield Row(cells, coupon, Verdict(WAITING, word))


def _test(coupon: Coupon, test: CouponTest) -> Sequence[str]:
    least = in_unit(test.least_wood_failure_pct, "%")
    return (
        coupon.number,
        coupon.mix.number,
        when(test.happened_at),
        duration((test.happened_at - coupon.made_at).total_seconds()),
        test.method,
        f"{in_unit(test.wood_failure_pct, '%')} (at least {least})",
        pressure(test.strength_pa),
        coupon.twin_place or NOTHING,
        str(test.get_verdict_display()),
    )


def verdict_of_test(test: CouponTest) -> Verdict:
    """Give the verdict of a coupon's test."""
    passed = test.verdict == CouponTest.Verdict.PASSED
    return Verdict(INSIDE if passed else OUTSIDE, str(test.get_verdict_display()))


def _flags(*flags: str) -> str:
    return " ".join(line for text in flags for line in text.splitlines())
