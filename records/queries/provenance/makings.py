"""What many propellers were made of, as numbers: the evidence beside a list."""

import datetime as dt
from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field, replace

from django.db.models import Q
from django.utils.timezone import localtime

from records.models import JointSpread, Lamination, LoadedBlank, MaterialUse
from records.queries.reach.destinations import Destination
from records.spelling.moments import day

Use = tuple[str, str, str, str, str]


@dataclass(slots=True)
class Making:
    """The numbers of all that one propeller was made of.

    `pieces` are (timber lot, board, lamination), `joints` (joint, mix, resin lot,
    hardener lot), `loads` (press load, pressure on), `uses` what was put on later:
    (lot, mix, the mix's resin lot, its hardener lot, place).
    """

    pieces: list[tuple[str, str, str]] = field(default_factory=list)
    joints: list[tuple[int, str, str, str]] = field(default_factory=list)
    loads: list[tuple[str, dt.datetime]] = field(default_factory=list)
    uses: list[Use] = field(default_factory=list)

    @property
    def timber(self) -> list[str]:
        """Name the timber lots, each once."""
        return sorted({lot for lot, _, _ in self.pieces})

    @property
    def glue(self) -> list[str]:
        """Name the glue lots, each once."""
        lots = {lot for _, _, *both in self.joints for lot in both}
        return sorted(lots - {""})

    @property
    def mixes(self) -> list[str]:
        """Name the mixes in the joints, each once."""
        return sorted({mix for _, mix, _, _ in self.joints})

    @property
    def pressed(self) -> list[str]:
        """Name the press loads with their days."""
        return [_load(load) for load in self.loads]

    @property
    def later(self) -> list[str]:
        """Name what was put on later, and where."""
        return [f"{lot or mix}, {place}" for lot, mix, _, _, place in self.uses]

    def chain(self, kind: str, number: str) -> list[str]:
        """Say how a thing got into this part; for a coupon, by its mix's number."""
        if kind == "load":
            return [_load(load) for load in self.loads if load[0] == number]
        return [
            *self._wood(kind, number),
            *self._glue(kind, number),
            *(
                f"{place} by {f'mix {mix}' if mix else f'lot {lot}'}"
                for lot, mix, *lots, place in self.uses
                if number in ([lot, *lots] if kind == "lot" else [mix])
            ),
        ]

    def _glue(self, kind: str, number: str) -> list[str]:
        joints: defaultdict[str, list[str]] = defaultdict(list)
        for joint, mix, *lots in self.joints:
            if number in (lots if kind == "lot" else [mix]):
                joints[mix].append(str(joint))
        return [
            f"{'joints' if len(numbers) > 1 else 'joint'} "
            f"{', '.join(dict.fromkeys(numbers))} by mix {mix}"
            for mix, numbers in joints.items()
        ]

    def _wood(self, kind: str, number: str) -> list[str]:
        place = {"lot": 0, "board": 1, "lamination": 2}.get(kind)
        return [
            f"lamination {piece[2]} of board {piece[1]}"
            for piece in self.pieces
            if place is not None and piece[place] == number
        ]


def makings_of(places: Iterable[Destination]) -> dict[int, Making]:
    """Gather what each of many propellers was made of, by its key: four queries."""
    blank_of = {place.pk: place.blank for place in places}
    made = _of_blanks(set(blank_of.values()))
    uses = _uses_on(blank_of)
    return {
        pk: replace(made.get(blank, Making()), uses=uses.get(pk, []))
        for pk, blank in blank_of.items()
    }


def _of_blanks(blanks: Collection[int]) -> dict[int, Making]:
    makings: defaultdict[int, Making] = defaultdict(Making)
    laid = Lamination.objects.filter(blank__in=blanks, state=Lamination.State.GOOD)
    pieces = laid.order_by("position", "pk").values_list(
        "blank", "board__lot__number", "board__number", "number"
    )
    for blank, lot, board, lamination in pieces:
        makings[blank].pieces.append((lot, board, lamination))
    spreads = JointSpread.objects.filter(blank__in=blanks, corrected_by__isnull=True)
    joints = spreads.order_by("joint", "pk").values_list(
        "blank",
        "joint",
        "mix__number",
        "mix__resin_lot__number",
        "mix__hardener_lot__number",
    )
    for blank, joint, mix, resin, hardener in joints:
        makings[blank].joints.append((joint, mix, resin, hardener or ""))
    loaded = LoadedBlank.objects.filter(blank__in=blanks).order_by("load__on_at", "pk")
    for blank, load, on_at in loaded.values_list(
        "blank", "load__number", "load__on_at"
    ):
        makings[blank].loads.append((load, on_at))
    return makings


def _uses_on(blank_of: dict[int, int]) -> dict[int, list[Use]]:
    on_propeller: defaultdict[int, list[Use]] = defaultdict(list)
    on_blank: defaultdict[int, list[Use]] = defaultdict(list)
    uses = MaterialUse.objects.filter(
        Q(propeller__in=blank_of.keys()) | Q(blank__in=set(blank_of.values()))
    )
    rows = uses.order_by("happened_at", "pk").values_list(
        "propeller",
        "blank",
        "lot__number",
        "mix__number",
        "mix__resin_lot__number",
        "mix__hardener_lot__number",
        "place",
    )
    for propeller, blank, *numbers in rows:
        lot, mix, resin, hardener, place = (number or "" for number in numbers)
        use = (lot, mix, resin, hardener, place)
        (on_propeller[propeller] if propeller else on_blank[blank]).append(use)
    return {pk: on_blank[blank] + on_propeller[pk] for pk, blank in blank_of.items()}


def _load(load: tuple[str, dt.datetime]) -> str:
    number, on_at = load
    return f"press load {number}, {day(localtime(on_at).date())}"
