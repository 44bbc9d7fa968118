"""From boards to a glued blank, as this shop does it."""

import datetime as dt
import random
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from records.management.demo.bench import Bench, full_pressure
from records.management.demo.clock import Story
from records.management.demo.workshop import INSPECTOR, Workshop
from records.models import (
    Blank,
    Board,
    BoardCheck,
    Coupon,
    Lamination,
    Lot,
    Mix,
    PressLoad,
)
from records.services import boards, coupons, gluing
from records.services.builds import stacking
from records.services.pressing import loads as pressing
from records.services.pressing import samples as press_samples

FROM_ONE_BOARD = 4
MINUTES_A_JOINT = 2
HOUR = dt.timedelta(hours=1)


@dataclass(slots=True)
class Made:
    """A blank on its way, with what became of it."""

    blank: Blank
    mixes: list[Mix]
    load: PressLoad | None = None


class BlankMaker:
    """Makes blanks: saws, stacks, glues, presses, breaks coupons."""

    def __init__(self, workshop: Workshop, bench: Bench, chance: random.Random) -> None:
        self.workshop = workshop
        self.bench = bench
        self.chance = chance

    def timber(self, wood: str, supplier_lot: str) -> Lot:
        """Take in a timber lot, measure it and sign its receipt."""
        lot = self.workshop.receive_timber(wood, supplier_lot)
        self.bench.inspect(lot, "timber-receipt")
        return lot

    def boards(self, wood: str, count: int) -> list[Board]:
        """Take boards of a lot: number, inspect and sign each."""
        made = boards.add_boards(
            act=self.workshop.act(),
            lot=self.workshop.timber[wood],
            count=count,
            length_mm=Decimal(4900),
            width_mm=Decimal(200),
            thickness_mm=Decimal(26),
            grade="aircraft",
        )
        for board in made:
            act = self.workshop.act(INSPECTOR)
            boards.inspect_board(
                act=act,
                board=board,
                rings=BoardCheck.Rings.QUARTER,
                defects=[],
                accepted=True,
                happened_at=act.at,
            )
            board.refresh_from_db()
            self.bench.inspect(board, "board-inspection")
        return made

    def stack(self, model: str, stock: Sequence[Board]) -> Blank:
        """Condition and saw boards, and lay a blank of them."""
        workshop = self.workshop
        design = workshop.designs[model]
        for board in stock:
            self.bench.do(board, "conditioning")
        blank = stacking.plan_blank(
            act=workshop.act(), revision=design, route=workshop.route
        )
        pieces = [
            self._saw(stock[n % len(stock)], n) for n in range(design.laminations)
        ]
        stacking.lay_laminations(
            act=workshop.act(),
            blank=blank,
            order=[(piece, bool(n % 2)) for n, piece in enumerate(pieces)],
        )
        self.bench.do(blank, "saw")
        self.bench.look(blank, "dry-stack")
        stacking.begin_glue_up(act=workshop.act(), blank=blank)
        blank.refresh_from_db()
        return blank

    def _saw(self, board: Board, number: int) -> Lamination:
        grams = Decimal(self.chance.randint(2580, 2640))
        return boards.saw_lamination(
            act=self.workshop.act(),
            board=board,
            place=f"{number // FROM_ONE_BOARD + 1} from the butt",
            end_mark="AB"[number % 2],
            mass_g=grams,
            balance_point_mm=Decimal(self.chance.randint(-9, 9)),
        )

    def mix(self) -> Mix:
        """Weigh and stir a batch."""
        act = self.workshop.act()
        resin = Decimal(self.chance.randint(580, 620))
        return gluing.mix_glue(
            act=act,
            sheet=self.workshop.sheet,
            resin_lot=self.workshop.resin,
            hardener_lot=self.workshop.powder,
            resin_g=resin,
            hardener_g=(resin / 5).quantize(Decimal("0.1")),
            mixed_at=act.at,
            temperature_c=Decimal("22.5"),
            humidity_pct=Decimal(47),
            stirred_min=Decimal(4),
        )

    def glue(self, blank: Blank, *, second_mix_after: int = 0) -> list[Mix]:
        """Close every joint, with a second mix after so many joints if named."""
        mixes = [self.mix()]
        for joint in range(1, blank.revision.laminations):
            if joint == second_mix_after + 1 and second_mix_after:
                mixes.append(self.mix())
            self.close(blank, joint, mixes[-1])
        return mixes

    def close(self, blank: Blank, joint: int, mix: Mix) -> None:
        """Spread and close one joint."""
        began = self.workshop.clock.now
        act = self.workshop.act(minutes=MINUTES_A_JOINT)
        gluing.close_joint(
            act=act,
            blank=blank,
            joint=joint,
            mix=mix,
            spread_at=began,
            closed_at=act.at,
            spread_g=Decimal(self.chance.randint(54, 66)),
        )

    def press(self, blanks: Sequence[Blank]) -> PressLoad:
        """Close the press on one blank or more."""
        act = self.workshop.act(minutes=4)
        return pressing.load_press(
            act=act, press=self.workshop.press, blanks=blanks, on_at=act.at
        )

    def watch(self, load: PressLoad, hours: int, *, dip_at: int = -1) -> None:
        """Read the logger's file of a pressing, a line every ten minutes."""
        press_samples.import_samples(
            act=self.workshop.act(),
            load=load,
            text=self._logger_file(load, hours, dip_at),
            unit="MPa",
            gauge=self.workshop.gauges["G06"],
        )

    def _logger_file(self, load: PressLoad, hours: int, dip_at: int) -> str:
        full = full_pressure(load)
        lines = ["time,pressure,temperature"]
        for step in range(1, hours * 6):
            moment = load.on_at + step * HOUR / 6
            share = 0.42 if dip_at <= step < dip_at + 3 else 1.0
            reading = full * share + self.chance.gauss(0, 0.04)
            warmth = 22.4 + self.chance.gauss(0, 0.15)
            lines.append(f"{moment:%Y-%m-%d %H:%M:%S},{reading:.2f},{warmth:.1f}")
        return "\n".join(lines)

    def open(self, load: PressLoad) -> None:
        """Open the press and read what the stage asks for."""
        act = self.workshop.act()
        pressing.open_press(act=act, load=load, off_at=act.at)

    def break_coupons(self, mixes: Sequence[Mix], wood: str) -> list[Coupon]:
        """Make and break a coupon of each mix."""
        made = []
        for mix in mixes:
            act = self.workshop.act()
            coupon = coupons.make_coupon(
                act=act,
                mix=mix,
                wood=self.workshop.woods[wood].name,
                made_at=mix.mixed_at,
                twin_place="shelf 3",
            )
            self.break_coupon(coupon, self.chance.randint(85, 97))
            made.append(coupon)
        return made

    def break_coupon(self, coupon: Coupon, wood_failure: int) -> None:
        """Break a coupon in the vice of the test bench."""
        act = self.workshop.act()
        coupons.record_coupon_test(
            act=act,
            coupon=coupon,
            happened_at=act.at,
            method="block shear on the bench tester",
            wood_failure_pct=Decimal(wood_failure),
            load_n=Decimal(25500 + self.chance.randint(-900, 900)),
            area_mm2=Decimal(1935),
            least_wood_failure_pct=Decimal(75),
        )

    def glued(
        self, model: str, wood: str, *, second_mix_after: int = 0, dip: bool = False
    ) -> Story[Blank]:
        """Tell how a blank comes about, to its signed rest."""
        made = yield from self.pressed(
            [model], wood, second_mix_after=second_mix_after, dip=dip
        )
        yield from self.rested(made, wood)
        return made[0].blank

    def pressed(
        self, models: Sequence[str], wood: str, *, second_mix_after: int, dip: bool
    ) -> Story[list[Made]]:
        """Tell how blanks go through one pressing together."""
        stocks = [self.boards(wood, 2) for _ in models]
        yield dt.timedelta(days=15)
        blanks = [self.stack(m, s) for m, s in zip(models, stocks, strict=True)]
        mixes = [self.glue(b, second_mix_after=second_mix_after) for b in blanks]
        load = self.press(blanks)
        for blank in blanks:
            self.bench.do(blank, "glue-up")
        yield dt.timedelta(hours=18)
        self.watch(load, 17, dip_at=40 if dip else -1)
        self.open(load)
        return [Made(b, m, load) for b, m in zip(blanks, mixes, strict=True)]

    def rested(self, made: Sequence[Made], wood: str) -> Story[None]:
        """Tell how pressed blanks are signed, tested and left to rest."""
        for one in made:
            one.blank.refresh_from_db()
            self.bench.look(one.blank, "press")
        yield dt.timedelta(days=2)
        for one in made:
            self.break_coupons(one.mixes, wood)
            self.bench.look(one.blank, "coupon")
        yield dt.timedelta(days=8)
        for one in made:
            self.bench.do(one.blank, "rest")
