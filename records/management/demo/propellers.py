"""From a glued blank to a propeller, stage by stage, and what may go wrong."""

import datetime as dt
import io
from dataclasses import dataclass

from PIL import Image, ImageDraw

from records.management.demo.bench import Bench
from records.management.demo.clock import Story
from records.management.demo.decisions import settle
from records.management.demo.workshop import INSPECTOR, Workshop
from records.models import Blank, Propeller, Reading
from records.rules.deviations.opening import Touched
from records.rules.readings.draft import Draft
from records.rules.readings.slots import open_slots
from records.services.builds import propellers as builds
from records.services.deviations.dispositions import dispose
from records.services.deviations.opening import open_deviation, set_cause
from records.services.readings.log import log_grid

DAY = dt.timedelta(days=1)
STAGES = (
    "rough-shape",
    "hub",
    "finish-shape",
    "first-balance",
    "edge-tip",
    "finish",
    "marking",
    "final-balance",
    "release",
)
WAIT_AFTER = {"rough-shape": 6 * DAY, "edge-tip": 2 * DAY, "finish": 11 * DAY}
INSPECTED = {"finish-shape", "marking", "final-balance", "release"}


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo as it would be sent from a phone."""

    name: str
    data: bytes


def drawn_photo(words: str) -> Picture:
    """Draw a plain picture that stands for a photo in this demo."""
    image = Image.new("RGB", (640, 400), "#d8c7a3")
    pen = ImageDraw.Draw(image)
    pen.ellipse((60, 150, 580, 250), fill="#8a5a2b", outline="#4b2f14", width=4)
    pen.line((300, 120, 345, 280), fill="#d8c7a3", width=14)
    pen.text((20, 370), f"demo picture: {words}", fill="#333333")
    file = io.BytesIO()
    image.save(file, "JPEG", quality=80)
    return Picture("demo.jpg", file.getvalue())


class PropellerMaker:
    """Makes propellers of blanks, and deals with what goes wrong."""

    def __init__(self, workshop: Workshop, bench: Bench) -> None:
        self.workshop = workshop
        self.bench = bench

    def start(self, blank: Blank) -> Propeller:
        """Give a blank its serial and begin to carve."""
        blank.refresh_from_db()
        return builds.start_propeller(act=self.workshop.act(), blank=blank)

    def made(self, propeller: Propeller, first: str, last: str) -> Story[None]:
        """Tell how a propeller goes through its stages, first and last included."""
        for code in STAGES[STAGES.index(first) : STAGES.index(last) + 1]:
            self.stage(propeller, code)
            yield WAIT_AFTER.get(code, DAY)

    def stage(self, propeller: Propeller, code: str) -> None:
        """Read and sign one stage."""
        if code in INSPECTED:
            self.bench.look(propeller, code)
        else:
            self.bench.do(propeller, code)

    def misread(
        self, propeller: Propeller, code: str, characteristic: str, entered: str
    ) -> Reading:
        """Take one reading that comes out wrong, the first that is wanted."""
        state = self.bench.state(propeller, code)
        slot = next(
            s for s in open_slots(state) if s.characteristic.code == characteristic
        )
        draft: Draft = self.bench.draft(slot, entered)
        (reading, *_) = log_grid(
            act=self.workshop.act(), subject=propeller, entries=[draft]
        )
        return reading

    def concede(self, propeller: Propeller, reading: Reading) -> None:
        """Open a deviation on a reading, and use the propeller as it is."""
        act = self.workshop.act(INSPECTOR)
        deviation = open_deviation(
            act=act,
            title="Chord over the drawing's tolerance",
            things=[Touched(propeller, reading=reading)],
            required=f"{reading.low} to {reading.high} {reading.unit}",
            found=f"{reading.entered} {reading.unit}",
            happened_at=act.at,
            stage=reading.characteristic.stage,
        )
        set_cause(
            act=self.workshop.act(INSPECTOR),
            deviation=deviation,
            cause_kind="method",
            cause="The template slipped while the trailing edge was trimmed.",
        )
        act = self.workshop.act(INSPECTOR)
        dispose(
            act=act,
            deviation=deviation,
            kind="use_as_is",
            reason="Blades alike within 0.4 mm; balance and track are not touched.",
            design_authority="Saltmarsh Airscrew Works, drawing office, note 14",
            plain_words="One blade is 4.5 mm wider at one station than drawn. "
            "The design's authority accepts it without a limit on use.",
            happened_at=act.at,
        )
        settle(self.workshop, deviation)

    def scrap(self, propeller: Propeller) -> None:
        """Find a crack, and make the propeller unusable."""
        act = self.workshop.act()
        deviation = open_deviation(
            act=act,
            title="Crack across the grain near the root",
            things=[Touched(propeller)],
            required="No crack across the grain",
            found="Hair crack, 30 mm, opened by the cutter at 190 mm radius, blade 2",
            happened_at=act.at,
            stage=self.workshop.stages["rough-shape"],
        )
        set_cause(
            act=self.workshop.act(INSPECTOR),
            deviation=deviation,
            cause_kind="material",
            cause="Hidden compression failure in the board.",
        )
        act = self.workshop.act(INSPECTOR)
        dispose(
            act=act,
            deviation=deviation,
            kind="scrap",
            reason="A crack across the grain is not repairable.",
            happened_at=act.at,
            photo=drawn_photo("sawn in two"),
        )
        settle(self.workshop, deviation)

    def find_out_of_track(self, propeller: Propeller) -> None:
        """Open a deviation on track and leave it open, with its hold."""
        act = self.workshop.act()
        open_deviation(
            act=act,
            title="Track out of limit before the finish",
            things=[Touched(propeller)],
            required="Track at most 1.5 mm",
            found="2.3 mm, blade 2 forward",
            happened_at=act.at,
            stage=self.workshop.stages["finish-shape"],
        )
