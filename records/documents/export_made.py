"""What a propeller was made of, in plain tables."""

from records.documents.export_table import Section, with_flags
from records.models import JointSpread
from records.queries.provenance.dossiers import Dossier, Pressed
from records.spelling.moments import when
from records.spelling.numbers import NOTHING, plain
from records.spelling.quantities import in_unit, mass, pressure, temperature


def laminations(one: Dossier) -> Section:
    """List the pieces in the blank with where they came from."""
    rows = [
        [
            str(piece.position),
            piece.number + (", turned end for end" if piece.turned else ""),
            mass(piece.mass_g),
            piece.board.number,
            piece.board.lot.number,
            piece.board.lot.material.name,
            str(piece.board.lot.supplier or "unknown"),
            piece.board.lot.supplier_lot or "unknown",
        ]
        for piece in one.laminations
    ]
    columns = (
        *("Place", "Lamination", "Mass", "Board", "Lot"),
        *("Species", "Supplier", "Supplier's lot"),
    )
    return Section("Boards and laminations", columns, rows)


def joints(one: Dossier) -> Section:
    """List the glue in each joint."""
    columns = ("Joint", "Mix", "Glue", "Lots", "Mixed", "Spread", "Closed", "Verdict")
    return Section("Joints and glue", columns, [_joint(s) for s in one.spreads])


def _joint(spread: JointSpread) -> list[str]:
    mix = spread.mix
    lots = [lot.number for lot in (mix.resin_lot, mix.hardener_lot) if lot]
    heat = temperature(mix.temperature_c)
    return [
        f"{spread.joint}, {spread.get_side_display()}",
        mix.number,
        mix.sheet.adhesive.name,
        " and ".join(lots),
        f"{when(mix.mixed_at)}, {plain(mix.parts)} parts to 100, {heat}",
        when(spread.spread_at),
        when(spread.closed_at),
        with_flags(spread.get_verdict_display(), spread.flags),
    ]


def pressing(one: Dossier) -> Section:
    """List the loads of the press that the blank was in."""
    rows = []
    for row in one.loaded:
        load, seen = row.load, one.pressed.get(row.load_id, Pressed())
        asked = (load.pressure_low_pa, load.pressure_high_pa)
        extremes = (seen.lowest_pa, seen.highest_pa)
        rows.append(
            [
                load.number,
                load.press.name,
                when(load.on_at),
                when(load.off_at),
                " to ".join(map(pressure, asked)),
                " to ".join(map(pressure, extremes)),
                str(seen.samples),
                load.flags or NOTHING,
            ]
        )
    columns = (
        *("Load", "Press", "Pressure on", "Pressure off", "Asked at the glue line"),
        *("Seen at the glue line", "Samples", "Found"),
    )
    return Section("Press", columns, rows)


def coupons(one: Dossier) -> Section:
    """List the tests of the coupons of its mixes."""
    rows = [
        [
            coupon.number,
            coupon.mix.number,
            when(test.happened_at),
            test.method,
            pressure(test.strength_pa),
            f"{in_unit(test.wood_failure_pct, '%')}",
            test.get_verdict_display(),
        ]
        for coupon in one.coupons
        for test in coupon.tests.all()
    ]
    columns = ("Coupon", "Mix", "Broken", "Method", "Strength", "Wood failure", "Test")
    return Section("Coupons", columns, rows)


def uses(one: Dossier) -> Section:
    """List what was put on after glue-up."""
    rows = [
        [
            when(use.happened_at),
            use.place,
            f"lot {use.lot.number}, {use.lot.material.name}"
            if use.lot
            else f"mix {use.mix.number if use.mix else NOTHING}",
            use.written_by.name,
        ]
        for use in one.uses
    ]
    return Section(
        "Material put on afterwards", ("When", "Where", "What", "Written by"), rows
    )
