"""Half a year in the invented shop, told build by build."""

import datetime as dt
import random
from collections.abc import Callable
from typing import Any

from records.management.demo.bench import Bench
from records.management.demo.blanks import BlankMaker, Made
from records.management.demo.clock import Clock, Story, tell
from records.management.demo.decisions import settle
from records.management.demo.papers import Papers
from records.management.demo.propellers import DAY, PropellerMaker
from records.management.demo.workshop import INSPECTOR, Workshop
from records.models import Propeller
from records.rules.deviations.opening import Touched
from records.services.builds.propellers import change_material
from records.services.deviations.dispositions import dispose
from records.services.deviations.opening import open_deviation, set_cause
from records.services.lots import receive_lot

CURLEW, BITTERN = "Curlew 60", "Bittern 52"
Said = Callable[[str], None]


def play(*, seed: int, now: dt.datetime, said: Said) -> None:
    """Fill an empty book with the demo: the same rows for the same seed and moment."""
    clock = Clock(now - 170 * DAY)
    chance = random.Random(seed)  # noqa: S311 - figures of a story
    workshop = Workshop(clock)
    said("people, gauges, materials, designs, route")
    workshop.set_up()
    bench = Bench(workshop, chance)
    shop = Saltmarsh(workshop, bench, chance)
    said("timber")
    shop.buy_timber()
    shop.papers.seal_with("Saltmarsh Airscrew Works")
    stories = shop.stories(now)
    tell(clock, stories, lambda left: said(f"builds still to tell: {left}"))


class Saltmarsh:
    """The demo's stories, one method each."""

    def __init__(self, workshop: Workshop, bench: Bench, chance: random.Random) -> None:
        self.workshop = workshop
        self.bench = bench
        self.blanks = BlankMaker(workshop, bench, chance)
        self.propellers = PropellerMaker(workshop, bench)
        self.papers = Papers(workshop)

    def buy_timber(self) -> None:
        """Take in the timber of the half year."""
        for wood, number in (("birch", "RB-118"), ("ash", "RB-131"), ("cherry", "")):
            self.blanks.timber(wood, number)

    def stories(self, now: dt.datetime) -> list[tuple[dt.datetime, Story[Any]]]:
        """List every story with the moment it begins."""
        start = self.workshop.clock.now
        told = [
            (0, self.lost_its_paper()),
            (4, self.with_second_mix()),
            (9, self.came_back()),
            (15, self.conceded()),
            (20, self.pressed_with_a_dip()),
            (30, self.scrapped()),
            (38, self.plain(BITTERN, "ash")),
            (50, self.plain(CURLEW, "cherry")),
            (90, self.reworked()),
            (110, self.out_of_track()),
            (118, self.held_by_its_coupon()),
        ]
        begun = [(start + days * DAY, story) for days, story in told]
        return [
            *begun,
            (now - 16 * DAY - dt.timedelta(hours=4), self.in_the_press()),
            (now - 15 * DAY - dt.timedelta(minutes=100), self.in_glue_up()),
            (now - dt.timedelta(hours=5), self.waiting_at_the_door()),
        ]

    def plain(self, model: str, wood: str) -> Story[Propeller]:
        """Tell of a build where nothing goes wrong."""
        blank = yield from self.blanks.glued(model, wood)
        propeller = self.propellers.start(blank)
        yield from self.propellers.made(propeller, "rough-shape", "release")
        self.papers.release(propeller)
        return propeller

    def lost_its_paper(self) -> Story[None]:
        """Tell of a delivered propeller whose record was printed again."""
        propeller = yield from self.plain(CURLEW, "birch")
        yield DAY
        self.papers.hand_over(propeller, "Orla Wren", "home-built monoplane, 48 kW")
        yield 40 * DAY
        self.papers.reissue(propeller)

    def came_back(self) -> Story[None]:
        """Tell of a delivered propeller that came back with a nicked tip."""
        propeller = yield from self.plain(BITTERN, "ash")
        yield 2 * DAY
        self.papers.hand_over(propeller, "Piet Sedge", "airboat, 37 kW")
        yield 60 * DAY
        self.papers.come_back(propeller, "Stone nick in the tip of blade 1, 12 mm.")

    def with_second_mix(self) -> Story[None]:
        """Tell of a first mix soaked up half-way: a second goes on from joint 4."""
        blank = yield from self.blanks.glued(CURLEW, "birch", second_mix_after=3)
        propeller = self.propellers.start(blank)
        yield from self.propellers.made(propeller, "rough-shape", "release")
        self.papers.release(propeller)

    def conceded(self) -> Story[None]:
        """Tell of a chord that is too wide, and is used as it is."""
        blank = yield from self.blanks.glued(CURLEW, "birch")
        propeller = self.propellers.start(blank)
        yield from self.propellers.made(propeller, "rough-shape", "hub")
        reading = self.propellers.misread(propeller, "finish-shape", "chord", "132.5")
        self.propellers.concede(propeller, reading)
        yield from self.propellers.made(propeller, "finish-shape", "release")
        self.papers.release(propeller)

    def pressed_with_a_dip(self) -> Story[None]:
        """Tell of two blanks in one pressing, whose pressure fell for a while."""
        made = yield from self.blanks.pressed(
            [BITTERN, BITTERN], "ash", second_mix_after=0, dip=True
        )
        self._accept_the_dip(made)
        yield from self.blanks.rested(made, "ash")
        first, second = (self.propellers.start(one.blank) for one in made)
        yield from self.propellers.made(first, "rough-shape", "release")
        self.papers.release(first)
        yield from self.propellers.made(second, "rough-shape", "edge-tip")

    def _accept_the_dip(self, made: list[Made]) -> None:
        """Decide on slices and coupons to use it as it is."""
        load = made[0].load
        if load is None:
            return
        act = self.workshop.act()
        deviation = open_deviation(
            act=act,
            title="Pressure fell for half an hour",
            things=[Touched(load)],
            required="Pressure held from first to last",
            found="Fell to two fifths for 30 minutes in the seventh hour: power cut",
            happened_at=act.at,
            stage=self.workshop.stages["press"],
            hold=False,
        )
        set_cause(
            act=self.workshop.act(INSPECTOR),
            deviation=deviation,
            cause_kind="machine",
            cause="The pump did not start again by itself after the power cut.",
        )
        act = self.workshop.act(INSPECTOR)
        dispose(
            act=act,
            deviation=deviation,
            kind="use_as_is",
            reason="The glue had cured by three quarters when the pressure fell, and "
            "a slice from each end shows thin lines throughout.",
            design_authority="Saltmarsh Airscrew Works, drawing office, note 15",
            plain_words="The press lost pressure for half an hour during the cure. "
            "Slices and coupons of this pressing were sound.",
            happened_at=act.at,
        )
        settle(self.workshop, deviation, load)

    def scrapped(self) -> Story[None]:
        """Tell of a crack that the cutter opens."""
        blank = yield from self.blanks.glued(CURLEW, "birch")
        propeller = self.propellers.start(blank)
        yield 2 * DAY
        self.propellers.scrap(propeller)

    def reworked(self) -> Story[None]:
        """Tell of an edge dressed after the first balance: readings go stale."""
        blank = yield from self.blanks.glued(BITTERN, "ash")
        propeller = self.propellers.start(blank)
        yield from self.propellers.made(propeller, "rough-shape", "first-balance")
        act = self.workshop.act()
        change_material(
            act=act,
            propeller=propeller,
            what="removed",
            place="blade 1, leading edge near the tip",
            reason="A dent from the bench was dressed out.",
            happened_at=act.at,
        )

    def out_of_track(self) -> Story[None]:
        """Tell of a propeller out of track; the decision is still open."""
        blank = yield from self.blanks.glued(BITTERN, "ash")
        propeller = self.propellers.start(blank)
        yield from self.propellers.made(propeller, "rough-shape", "hub")
        self.propellers.find_out_of_track(propeller)

    def held_by_its_coupon(self) -> Story[None]:
        """Tell of a coupon that fails late, when the blank is carved already."""
        made = yield from self.blanks.pressed(
            [CURLEW], "birch", second_mix_after=0, dip=False
        )
        yield from self.blanks.rested(made, "birch")
        propeller = self.propellers.start(made[0].blank)
        yield from self.propellers.made(propeller, "rough-shape", "rough-shape")
        twin = made[0].mixes[0].coupons.get()
        self.blanks.break_coupon(twin, 35)

    def in_the_press(self) -> Story[None]:
        """Leave a blank under pressure at this moment."""
        stock = self.blanks.boards("birch", 2)
        yield 16 * DAY
        blank = self.blanks.stack(CURLEW, stock)
        self.blanks.glue(blank)
        load = self.blanks.press([blank])
        self.bench.do(blank, "glue-up")
        yield dt.timedelta(hours=1)
        self.blanks.watch(load, 1)

    def in_glue_up(self) -> Story[None]:
        """Leave a blank with the glue clock running."""
        stock = self.blanks.boards("ash", 2)
        yield 15 * DAY
        blank = self.blanks.stack(BITTERN, stock)
        mix = self.blanks.mix()
        for joint in (1, 2):
            self.blanks.close(blank, joint, mix)

    def waiting_at_the_door(self) -> Story[None]:
        """Leave a new lot waiting for its receiving check."""
        receive_lot(
            act=self.workshop.act(),
            material=self.workshop.woods["cherry"],
            supplier=self.workshop.supplier,
            supplier_lot="RB-160",
            received_on=self.workshop.today,
        )
        yield DAY
