"""A shop that does what a journey tells it: the demo's, with its clock in our hands."""

import datetime as dt
import random
from typing import Any

from django.conf import settings

from records.documents.keys import current_keys, make_keys
from records.management.demo.bench import Bench
from records.management.demo.blanks import BlankMaker
from records.management.demo.clock import Clock, Story
from records.management.demo.propellers import STAGES, PropellerMaker
from records.management.demo.workshop import INSPECTOR, KEEPER, MAKER, Workshop
from records.models import Blank, Hold, Propeller, Reading
from records.queries.provenance.made_of import Provenance
from records.queries.provenance.written import Written
from records.queries.reach.holds import holds_on
from records.queries.subjects import kind_of
from records.queries.trace.history import where_from
from records.rules.deviations.opening import Touched
from records.rules.gates.stage import missing_for_stage
from records.rules.readings.slots import open_slots
from records.services import gauges, gluing, holds
from records.services.conformity import issue as conformity
from records.services.conformity import release
from records.services.deviations import dispositions
from records.services.deviations import opening as deviations
from records.services.ledger import Act
from records.services.readings import log as readings
from records.services.service import events as service

BEGINS = dt.datetime(2026, 3, 2, 8, 0, tzinfo=dt.UTC)
SMALL, TALL = "Bittern 52", "Curlew 60"
WOOD_OF = {SMALL: "ash", TALL: "birch"}
MINUTE, DAY = dt.timedelta(minutes=1), dt.timedelta(days=1)


class Told:
    """The invented shop of the demo, empty of builds, doing one thing at a time."""

    def __init__(self, begins: dt.datetime = BEGINS) -> None:
        chance = random.Random(7)  # noqa: S311 - figures of a story
        self.clock = Clock(begins)
        self.workshop = Workshop(self.clock)
        self.workshop.set_up()
        self.bench = Bench(self.workshop, chance)
        self.blanks = BlankMaker(self.workshop, self.bench, chance)
        self.propellers = PropellerMaker(self.workshop, self.bench)

    def tell(self, story: Story[Any]) -> Any:
        """Let a story run to its end, waiting times and all; give what it made."""
        while True:
            try:
                self.wait(next(story))
            except StopIteration as end:
                return end.value

    def wait(self, time: dt.timedelta) -> None:
        self.clock.at_least(self.clock.now + time)

    def act(self, who: str = MAKER) -> Act:
        return self.workshop.act(who)

    def person(self, who: str) -> Any:
        return self.workshop.people[who]

    def timber(self, wood: str) -> Any:
        """Give the lot of a wood, bought when it is first wanted."""
        if wood not in self.workshop.timber:
            self.blanks.timber(wood, f"RB-{wood}")
        return self.workshop.timber[wood]

    def boards(self, wood: str, count: int = 2) -> list[Any]:
        self.timber(wood)
        return self.blanks.boards(wood, count)

    def stacked(self, model: str = SMALL, wood: str = "") -> Blank:
        """Make a blank whose dry stack is signed: the glue may come."""
        stock = self.boards(wood or WOOD_OF[model])
        self.wait(15 * DAY)
        return self.blanks.stack(model, stock)

    def close(self, blank: Blank, joint: int, mix: Any, **given: Any) -> Any:
        """Spread a joint and close it, two minutes after."""
        began = self.clock.now
        act = self.workshop.act(minutes=2)
        given = {"spread_at": began, "closed_at": act.at} | given
        return gluing.close_joint(act=act, blank=blank, joint=joint, mix=mix, **given)

    def glued_wet(self, model: str = SMALL) -> Blank:
        """Make a blank whose joints are just closed."""
        blank = self.stacked(model)
        self.blanks.glue(blank)
        return blank

    def pressed(self, blank: Blank, *, dip_at: int = -1) -> Any:
        """Press a blank for 18 hours and take it out."""
        load = self.blanks.press([blank])
        self.wait(18 * dt.timedelta(hours=1))
        self.blanks.watch(load, 17, dip_at=dip_at)
        self.blanks.open(load)
        blank.refresh_from_db()
        load.refresh_from_db()
        return load

    def glued(self, model: str = SMALL, wood: str = "") -> Blank:
        """Make a blank to its signed rest, ready to be carved."""
        wood = wood or WOOD_OF[model]
        self.timber(wood)
        blank: Blank = self.tell(self.blanks.glued(model, wood))
        blank.refresh_from_db()
        return blank

    def carved(self, blank: Blank, last: str = "release") -> Propeller:
        """Make a propeller of a glued blank, as far as a stage."""
        propeller = self.propellers.start(blank)
        self.tell(self.propellers.made(propeller, "rough-shape", last))
        return propeller

    def released(self, blank: Blank) -> Propeller:
        propeller = self.carved(blank)
        self.release(propeller)
        return propeller

    def release(self, propeller: Propeller) -> None:
        release.release_propeller(act=self.act(KEEPER), propeller=propeller)
        propeller.refresh_from_db()

    def redone(self, propeller: Propeller) -> None:
        """Do every stage again that no signature stands for, and look at it all."""
        for code in STAGES[:-1]:
            if self.bench.state(propeller, code).signed is None:
                self.tell(self.propellers.made(propeller, code, code))
        for characteristic in self.bench.state(propeller, STAGES[-1]).characteristics():
            readings.log_reading(
                act=self.act(),
                subject=propeller,
                characteristic=characteristic,
                entered="yes",
                happened_at=self.clock.now,
            )
        self.bench.sign(propeller, STAGES[-1], who=INSPECTOR)

    def recalibrated(self) -> None:
        """Have every gauge looked at again, and found good."""
        for gauge in self.workshop.gauges.values():
            last = gauge.calibrations.order_by("-done_on", "-pk").first()
            gauges.calibrate_gauge(
                act=self.act(KEEPER),
                gauge=gauge,
                done_on=self.workshop.today,
                unit=gauge.unit,
                as_found_error=last.as_left_error,
                as_left_error=last.as_left_error,
                permissible_error=last.permissible_error,
                expanded_uncertainty=last.expanded_uncertainty,
                certificate="Next certificate",
                standard=last.standard,
            )

    def certified(self, propeller: Propeller, **given: Any) -> Any:
        """Issue the conformity record of a released propeller."""
        if current_keys(settings.DATA) is None:
            make_keys(settings.DATA, "Saltmarsh Airscrew Works", self.clock.now)
        record = conformity.issue_conformity(
            act=self.act(KEEPER), propeller=propeller, **given
        )
        propeller.refresh_from_db()
        return record

    def delivered(self, propeller: Propeller, owner: str = "A. Flyer") -> Any:
        """Hand a released propeller with its record to an owner."""
        self.certified(propeller)
        act = self.act(KEEPER)
        handed = service.hand_over(
            act=act,
            propeller=propeller,
            owner=service.add_owner(act=self.act(KEEPER), name=owner),
            happened_at=act.at,
        )
        propeller.refresh_from_db()
        return handed

    def read(
        self, thing: Any, code: str, characteristic: str, entered: str, **given: Any
    ) -> Any:
        """Log the first reading wanted of this kind, with what was seen."""
        state = self.bench.state(thing, code)
        slot = next(
            s for s in open_slots(state) if s.characteristic.code == characteristic
        )
        draft = self.bench.draft(slot, entered)
        values = {
            "characteristic": draft.characteristic,
            "entered": entered,
            "unit": draft.unit,
            "happened_at": draft.happened_at,
            "gauge": draft.gauge,
            "blade": draft.blade,
            "station": draft.station,
            "joint": draft.joint,
        }
        return readings.log_reading(
            act=self.act(), subject=slot.thing, **values | given
        )

    def missing(self, thing: Any, code: str) -> list[str]:
        """Say what is missing before a stage can be signed."""
        stage = self.bench.state(thing, code).stage
        return [finding.sentence for finding in missing_for_stage(thing, stage)]

    def deviate(self, title: str, *things: Touched, **given: Any) -> Any:
        """Open a deviation, as the maker who saw it."""
        act = self.act()
        words = {"required": "as planned", "found": title, "happened_at": act.at}
        return deviations.open_deviation(
            act=act, title=title, things=things, **words | given
        )

    def accept(self, deviation: Any, who: str = INSPECTOR, **given: Any) -> Any:
        """Use it as it is, by somebody with the authority."""
        act = self.act(who)
        words = {
            "kind": "use_as_is",
            "reason": "A slice through it shows a thin line, wetted all along.",
            "design_authority": "drawing office, note 21",
            "plain_words": f"{deviation.title}. The design's authority accepts it.",
            "happened_at": act.at,
        }
        return dispositions.dispose(act=act, deviation=deviation, **words | given)

    def close_deviation(self, deviation: Any) -> None:
        deviations.close_deviation(act=self.act(INSPECTOR), deviation=deviation)

    def release_holds(self, *, who: str = INSPECTOR) -> None:
        """Release every hold that stands, with a reason."""
        for hold in Hold.objects.standing().order_by("pk"):
            act = self.act(who)
            holds.release_hold(
                act=act, hold=hold, reason="Slices are sound.", happened_at=act.at
            )


def held(thing: Any) -> list[str]:
    """Name what the standing holds that reach a thing are on."""
    return [str(hold.subject) for hold in holds_on(kind_of(thing), thing.pk)]


def made_of(thing: Any) -> Provenance:
    """Trace a propeller or a blank to all that it was made of."""
    return where_from(thing).made


def written_about(thing: Any) -> Written:
    """Give what was read, signed and decided of a thing and all that is in it."""
    return where_from(thing).written


def verdicts(thing: Any, code: str) -> list[str]:
    """Give the verdicts on a thing's readings of a stage, in their order."""
    taken = Reading.objects.filter(
        **{kind_of(thing): thing, "characteristic__stage__code": code}
    )
    return list(taken.order_by("pk").values_list("verdict", flat=True))
