"""Where a stage wants a reading: each thing, blade, station or joint."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from django.db.models import Model

from records.models import Characteristic, Coupon, Reading, Station
from records.queries.builds.progress import StageState
from records.queries.subjects import called, number_of
from records.spelling.places import place

Per = Characteristic.Per


@dataclass(frozen=True, slots=True)
class Slot:
    """One place where a reading is wanted, and how many are still to be taken.

    `stale` says why a reading that stood here no longer counts.
    """

    characteristic: Characteristic
    thing: Model
    blade: int | None = None
    station: Station | None = None
    joint: int | None = None
    left: int = 0
    stale: str = ""

    def place(self, subject: Model) -> str:
        """Spell the place in words, as seen from the thing that is signed."""
        of = [] if self.thing == subject else [called(self.thing)]
        radius = self.station.radius_mm if self.station else None
        where = place(blade=self.blade, radius_mm=radius, joint=self.joint)
        return " ".join([*of, where] if where else of)


def open_slots(state: StageState) -> list[Slot]:
    """List where required readings are still missing, in the order asked for."""
    still_open = []
    for characteristic in state.characteristics():
        if characteristic.required:
            still_open += [s for s in slots(state, characteristic) if s.left]
    return still_open


def slots(state: StageState, characteristic: Characteristic) -> Iterator[Slot]:
    """Give every place where a characteristic is wanted, with what is left there."""
    here = [r for r in state.readings if r.characteristic.code == characteristic.code]
    things = _things(state, characteristic)
    for group, (blade, station, joint) in product(
        things, _places(state, characteristic)
    ):
        keys = {thing.pk for thing in group}
        mine = [
            r
            for r in here
            if getattr(r, f"{characteristic.on}_id") in keys
            and (r.blade, r.station_id, r.joint)
            == (blade, station.pk if station else None, joint)
        ]
        current = [r for r in mine if r.pk not in state.stale]
        left = max(0, _wanted(characteristic) - len(current))
        yield Slot(
            characteristic,
            group[0],
            blade,
            station,
            joint,
            left,
            _why_stale(state, mine) if left else "",
        )


def _wanted(characteristic: Characteristic) -> int:
    return 1 if characteristic.is_range else characteristic.at_least


def _why_stale(state: StageState, readings: list[Reading]) -> str:
    return next((state.stale[r.pk] for r in readings if r.pk in state.stale), "")


def _things(state: StageState, characteristic: Characteristic) -> list[list[Model]]:
    """Group the things to read: one reading a thing, for coupons one a mix."""
    things = state.things(characteristic.on)
    if characteristic.on != "coupon":
        return [[thing] for thing in things]
    by_mix: dict[int, list[Model]] = {}
    for thing in things:
        if isinstance(thing, Coupon):
            by_mix.setdefault(thing.mix_id, []).append(thing)
    return list(by_mix.values())


def _places(
    state: StageState, characteristic: Characteristic
) -> list[tuple[int | None, Station | None, int | None]]:
    design = state.provenance.design
    if design is None or characteristic.per == Per.ONCE:
        return [(None, None, None)]
    if characteristic.per == Per.JOINT:
        return [(None, None, joint) for joint in range(1, design.laminations)]
    blades: list[int | None] = list(range(1, design.blades + 1))
    if characteristic.is_range:
        blades = [None]
    if characteristic.per == Per.BLADE:
        return [(blade, None, None) for blade in blades]
    return [(b, station, None) for station in state.provenance.stations for b in blades]


def in_words(characteristic: Characteristic, wanted: list[Slot], subject: Model) -> str:
    """Say in one sentence what is missing of a characteristic."""
    name = characteristic.name
    places = [place for slot in wanted if (place := slot.place(subject))]
    count = sum(slot.left for slot in wanted)
    again = next((slot.stale for slot in wanted if slot.stale), "")
    if characteristic.is_range and not again:
        where = f" ({', '.join(places)})" if places else ""
        return f"{name} is not computed yet{where}: its readings are not all taken."
    what = f"{name} has to be read again" if again else f"{name} is missing"
    if count > 1:
        what = f"{name}: {count} readings " + ("to repeat" if again else "missing")
    if places:
        shown = ", ".join(places[:3])
        what += f" ({shown}{', …' if len(places) > 3 else ''})"  # noqa: PLR2004
    return f"{what}: {again}." if again else f"{what}."


def numbered(thing: Model) -> str:
    """Give the number of a thing, for a link to it."""
    return number_of(thing)
