"""Tables of a build record: what was put together, tested, signed and decided."""

from records.documents.form import OPEN, Table
from records.models import CouponTest
from records.queries.builds.progress import Progress
from records.queries.provenance.origin import Origin
from records.queries.subjects import called
from records.spelling.moments import when
from records.spelling.quantities import in_unit, mass, pressure


def laminations_table(origin: Origin) -> Table:
    """List the laminations from the bottom up, with board, lot and wood."""
    rows = [
        [
            str(x.position),
            x.number,
            x.board.lot.material.name,
            f"{x.board.number} of {x.board.lot.number}",
            mass(x.mass_g),
            "turned" if x.turned else "as sawn",
        ]
        for x in origin.laminations
    ]
    head = ("Place", "Lamination", "Wood", "Board and lot", "Mass", "End for end")
    return Table(head, rows, (1, 3, 4, 4, 4, 2))


def mixes_table(origin: Origin) -> Table:
    """List the mixes with their lots, masses, time and temperature."""
    rows = [
        [
            mix.number,
            mix.sheet.adhesive.name,
            ", ".join(lot.number for lot in (mix.resin_lot, mix.hardener_lot) if lot),
            f"{in_unit(mix.resin_g, 'g')} + {in_unit(mix.hardener_g, 'g')}",
            in_unit(mix.temperature_c, "degC"),
            when(mix.mixed_at),
            mix.flags.replace("\n", " ") or OPEN,
        ]
        for mix in origin.mixes
    ]
    head = ("Mix", "Glue", "Lots", "Resin + hardener", "At", "Mixed", "Found")
    return Table(head, rows, (2, 4, 3, 4, 2, 4, 5))


def joints_table(origin: Origin) -> Table:
    """List the joints with mix, times and verdict."""
    rows = [
        [
            str(s.joint),
            s.mix.number,
            s.get_side_display(),
            when(s.spread_at),
            when(s.closed_at),
            in_unit(s.spread_g, "g"),
            "; ".join([s.get_verdict_display(), *s.flags.splitlines()]),
            s.written_by.name,
        ]
        for s in origin.spreads
    ]
    head = ("Joint", "Mix", "Side", "First glue", "Closed", "Glue", "Verdict", "By")
    return Table(head, rows, (1, 2, 2, 4, 4, 2, 5, 3))


def coupons_table(origin: Origin) -> Table:
    """List every test of every coupon, failed ones too."""
    rows = [
        [
            coupon.number,
            coupon.mix.number,
            test.method,
            when(test.happened_at),
            _wood_failure(test),
            pressure(test.strength_pa),
            test.get_verdict_display(),
            coupon.twin_place or OPEN,
        ]
        for coupon in origin.coupons
        for test in coupon.tests.all()
    ]
    head = (
        "Coupon",
        "Mix",
        "How",
        "Broken",
        "Wood failure",
        "Shear",
        "Verdict",
        "Twin",
    )
    return Table(head, rows, (2, 2, 4, 4, 4, 3, 2, 2))


def _wood_failure(test: CouponTest) -> str:
    least = in_unit(test.least_wood_failure_pct, "%")
    return f"{in_unit(test.wood_failure_pct, '%')} (at least {least})"


def uses_table(origin: Origin) -> Table:
    """List what was put on after glue-up."""
    rows = [
        [
            str(use.lot or use.mix),
            use.lot.material.name if use.lot else "glue",
            use.place,
            when(use.happened_at),
            use.written_by.name,
        ]
        for use in origin.uses
    ]
    return Table(
        ("Lot or mix", "Material", "Where", "When", "By"), rows, (2, 4, 5, 4, 3)
    )


def signatures_table(progress: Progress) -> Table:
    """List every signature with its meaning and kind of check, void ones too."""
    rows = [
        [
            f"{state.stage.name}, {called(state.subject)}",
            s.signoff.printed_name,
            when(s.signoff.happened_at),
            s.signoff.meaning,
            s.signoff.get_check_kind_display(),
            s.signoff.digest[:16],
            "VOID" if s.void else "stands",
        ]
        for state in progress.states
        for s in state.signatures
    ]
    head = ("Stage", "Signed by", "When", "Meaning", "Kind of check", "Digest", "")
    return Table(head, rows, (5, 3, 4, 5, 4, 4, 2))


def deviations_table(origin: Origin) -> Table:
    """List the deviations that touch the build, with what was decided."""
    rows = [
        [
            d.number,
            d.title,
            d.found,
            "; ".join(x.get_kind_display() for x in d.dispositions.all())
            or "undecided",
            d.get_state_display(),
        ]
        for d in origin.deviations
    ]
    return Table(
        ("Number", "Title", "Found", "Decided", "State"), rows, (2, 5, 6, 3, 2)
    )
