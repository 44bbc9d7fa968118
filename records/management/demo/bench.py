"""At the bench: take every reading that a stage still wants, and sign it off."""

import math
import random
from decimal import Decimal

from django.db.models import Model

from records.management.demo.workshop import INSPECTOR, MAKER, Workshop
from records.models import (
    Characteristic,
    Gauge,
    PressLoad,
    Propeller,
    Reading,
    Stage,
)
from records.queries.builds.progress import StageState, progress_of
from records.rules.readings.draft import Draft
from records.rules.readings.slots import Slot, open_slots
from records.services.readings.log import log_grid
from records.services.signoffs import sign_stage

GAUGE_FOR_UNIT = {"%": "G01", "g": "G02", "deg": "G05", "MPa": "G06", "g.mm": "G07"}
LONG = {"length", "chord"}

# Middle and spread of what this shop usually reads.
USUAL = {
    "moisture": (9.4, 0.25),
    "grain-slope": (22, 2),
    "days": (21, 2),
    "room-temperature": (22.4, 0.3),
    "room-humidity": (47, 2),
    "weekly-change": (0.1, 0.1),
    "pair-mass": (1.4, 0.4),
    "thickness-lamination": (0, 0.02),
    "gap": (0.04, 0.015),
    "lowest-temperature": (21.9, 0.2),
    "slip": (0.3, 0.1),
    "straightness": (0.8, 0.2),
    "surplus": (1.6, 0.15),
    "bolt-circle": (0.08, 0.03),
    "horizontal": (700, 250),
    "vertical": (300, 200),
    "coats": (3, 0),
    "cure-days": (12, 1),
    "tip": (0.3, 0.25),
    "wetting": (9, 2),
}
DIGITS = {
    "days": 0,
    "cure-days": 0,
    "coats": 0,
    "grain-slope": 0,
    "horizontal": -1,
    "vertical": -1,
    "mass": 0,
    "gap": 2,
    "bolt-circle": 2,
    "angle": 2,
    "thickness": 2,
    "hub-thickness": 2,
    "bore": 2,
    "bolt-hole": 2,
    "tip": 2,
}


class Bench:
    """Takes readings as this shop usually gets them, unless told otherwise."""

    def __init__(self, workshop: Workshop, chance: random.Random) -> None:
        self.workshop = workshop
        self.chance = chance

    def read_stage(
        self, subject: Model, code: str, *, skip: tuple[str, ...] = ()
    ) -> list[Reading]:
        """Take every reading that a stage of a thing still wants."""
        state = self.state(subject, code)
        taken: list[Reading] = []
        wanted = [
            s
            for s in open_slots(state)
            if not s.characteristic.is_range and s.characteristic.code not in skip
        ]
        for thing in dict.fromkeys(slot.thing for slot in wanted):
            drafts = [
                self.draft(slot, self.figure(slot), point)
                for slot in wanted
                if slot.thing == thing
                for point in _points(slot)
            ]
            act = self.workshop.act(minutes=2)
            taken += log_grid(act=act, subject=thing, entries=drafts)
        return taken

    def sign(
        self, subject: Model, code: str, *, who: str = MAKER, kind: str = ""
    ) -> None:
        """Sign a stage off, as the kind of check it was."""
        stage = self.workshop.stages[code]
        own = Stage.CheckKind.SELF if who == MAKER else Stage.CheckKind.INDEPENDENT
        act = self.workshop.act(who, minutes=3)
        sign_stage(
            act=act,
            subject=subject,
            stage=stage,
            meaning="Done and inspected as the stage asks.",
            check_kind=kind or own,
            method="password",
            happened_at=act.at,
        )

    def do(self, subject: Model, code: str, *, who: str = MAKER) -> None:
        """Read and sign a stage."""
        self.read_stage(subject, code)
        self.sign(subject, code, who=who)

    def look(self, subject: Model, code: str) -> None:
        """Read a stage and have the inspector sign it, who had no hand in it."""
        self.do(subject, code, who=INSPECTOR)

    def inspect(self, subject: Model, code: str) -> None:
        """Read a stage and have the inspector sign what she looked at herself."""
        self.read_stage(subject, code)
        self.sign(subject, code, who=INSPECTOR, kind=Stage.CheckKind.SELF)

    def state(self, subject: Model, code: str) -> StageState:
        """Find a stage of a thing by its code."""
        progress = progress_of(subject, self.workshop.route)
        state = progress.at(subject, code)
        if state is None:
            raise LookupError(f"{subject} has no stage {code}")
        return state

    def draft(self, slot: Slot, entered: str, point: str = "") -> Draft:
        """Write a reading down as it would be typed."""
        characteristic = slot.characteristic
        return Draft(
            subject=slot.thing,
            characteristic=characteristic,
            entered=entered,
            unit=characteristic.unit,
            happened_at=self.workshop.clock.now,
            gauge=self.gauge(characteristic),
            blade=slot.blade,
            station=slot.station,
            joint=slot.joint,
            point=point,
        )

    def gauge(self, characteristic: Characteristic) -> Gauge | None:
        """Choose the gauge that this shop takes for a reading."""
        if not characteristic.gauge_needed:
            return None
        fallback = "G04" if characteristic.code in LONG else "G03"
        number = GAUGE_FOR_UNIT.get(characteristic.unit, fallback)
        if characteristic.code == "tip":
            number = "G08"
        return self.workshop.gauges[number]

    def figure(self, slot: Slot) -> str:
        """Make up what a reading usually is."""
        characteristic = slot.characteristic
        if characteristic.kind == Characteristic.Kind.YES_NO:
            return "yes"
        if characteristic.kind == Characteristic.Kind.NOTE:
            return self._marking(slot)
        middle, spread = self._usual(slot)
        value = self.chance.gauss(middle, spread) if spread else middle
        value = max(min(value, middle + 2 * spread), middle - 2 * spread)
        return spelled(value, DIGITS.get(characteristic.code, 1))

    def _marking(self, slot: Slot) -> str:
        propeller = slot.thing
        if not isinstance(propeller, Propeller):
            return "as usual"
        design = propeller.revision
        return (
            f"{design.design.model} {propeller.serial} "
            f"D {design.diameter_mm:.0f} P {design.pitch_mm:.0f} mm"
        )

    def _usual(self, slot: Slot) -> tuple[float, float]:
        code = slot.characteristic.code
        if slot.station is not None:
            return self._at_station(slot)
        if isinstance(slot.thing, PressLoad) and code not in USUAL:
            return full_pressure(slot.thing), 0.02
        if slot.characteristic.on == "lamination":
            return self._of_lamination(slot, code)
        if isinstance(slot.thing, Propeller):
            return self._of_propeller(slot.thing, code)
        return USUAL[code]

    def _at_station(self, slot: Slot) -> tuple[float, float]:
        code, station = slot.characteristic.code, slot.station
        spread = {"angle": 0.03, "chord": 0.5, "thickness": 0.1}[code]
        nominal = {"angle": "angle_deg", "chord": "chord_mm"}.get(code, "thickness_mm")
        return float(getattr(station, nominal)), spread

    def _of_lamination(self, slot: Slot, code: str) -> tuple[float, float]:
        if code == "mass":
            return float(getattr(slot.thing, "mass_g", None) or 2600), 2
        if code == "thickness":
            return 16.0, 0.02
        return USUAL[code]

    def _of_propeller(self, propeller: Propeller, code: str) -> tuple[float, float]:
        design = propeller.revision
        figures = {
            "thickness": (float(design.hub_thickness_mm), 0.02),
            "hub-thickness": (float(design.hub_thickness_mm), 0.03),
            "bore": (float(design.bore_mm) + 0.03, 0.01),
            "bolt-hole": (float(design.bolt_hole_mm) + 0.02, 0.01),
            "length": (float(design.diameter_mm) / 2, 0.15),
            "mass": (float(design.diameter_mm) * 1.35, 25),
        }
        return figures.get(code) or USUAL[code]


def full_pressure(load: PressLoad) -> float:
    """Find the gauge figure for the middle of the glue line's range [MPa]."""
    middle = float(load.pressure_low_pa + load.pressure_high_pa) / 2
    bore = float(load.press.bore_mm or 0)
    rams = (load.press.rams or 1) * math.pi / 4 * bore**2
    return middle * float(load.glued_area_mm2) / rams / 1e6


def spelled(value: float, digits: int) -> str:
    """Spell a figure with so many digits, as a gauge shows it."""
    step = Decimal(1).scaleb(-digits)
    return f"{Decimal(value).quantize(step):f}"


def _points(slot: Slot) -> list[str]:
    if slot.left <= 1:
        return [""]
    return [str(n) for n in range(1, slot.left + 1)]
