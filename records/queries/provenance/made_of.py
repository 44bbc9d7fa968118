"""Made of what: a thing with all that went into it, by one closure for every reader."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TypeVar

from django.db.models import Model

from records.models import (
    Blank,
    Board,
    Coupon,
    JointSpread,
    Lamination,
    LoadedBlank,
    Lot,
    MaterialUse,
    Mix,
    PressLoad,
    Propeller,
    Revision,
    RouteRevision,
    Station,
)

M = TypeVar("M", bound=Model)
Key = tuple[str, int]


@dataclass(slots=True)
class Provenance:
    """A thing with all that it was made of, and the plan it is built by.

    `routes` are the plans it may be read by: one, but for glue or a press load that
    went into blanks of several routes. `voided` are the numbers that fell out of the
    boards used. `given` is a lot, board, mix or load that is itself what was asked
    about, without a blank.
    """

    routes: list[RouteRevision] = field(default_factory=list)
    propeller: Propeller | None = None
    blank: Blank | None = None
    laminations: list[Lamination] = field(default_factory=list)
    voided: list[Lamination] = field(default_factory=list)
    spreads: list[JointSpread] = field(default_factory=list)
    loaded: list[LoadedBlank] = field(default_factory=list)
    uses: list[MaterialUse] = field(default_factory=list)
    coupons: list[Coupon] = field(default_factory=list)
    stations: list[Station] = field(default_factory=list)
    given: list[Model] = field(default_factory=list)

    @property
    def design(self) -> Revision | None:
        """The design revision it is, or is planned to be."""
        if self.propeller is not None:
            return self.propeller.revision
        return self.blank.revision if self.blank is not None else None

    @property
    def boards(self) -> list[Board]:
        """The boards that the laminations were sawn from, each once."""
        sawn = (lamination.board for lamination in self.laminations)
        return each_once([*self._given(Board), *sawn])

    @property
    def timber_lots(self) -> list[Lot]:
        """The lots of those boards, each once."""
        return each_once([*self._given(Lot), *(board.lot for board in self.boards)])

    @property
    def joint_mixes(self) -> list[Mix]:
        """The mixes in the joints, each once."""
        return each_once([*self._given(Mix), *(s.mix for s in self.spreads)])

    @property
    def mixes(self) -> list[Mix]:
        """The mixes in the joints, then those used later, each once."""
        later = (use.mix for use in self.uses if use.mix is not None)
        return each_once([*self.joint_mixes, *later])

    @property
    def glue_lots(self) -> list[Lot]:
        """The lots of resin and hardener in all those mixes, each once."""
        pairs = ((mix.resin_lot, mix.hardener_lot) for mix in self.mixes)
        return each_once(lot for pair in pairs for lot in pair if lot is not None)

    @property
    def used_lots(self) -> list[Lot]:
        """The lots put on after glue-up: edges, finish, repair; each once."""
        return each_once(use.lot for use in self.uses if use.lot is not None)

    @property
    def lots(self) -> list[Lot]:
        """Every lot in it: of wood, of glue, put on later; each once."""
        return each_once([*self.timber_lots, *self.glue_lots, *self.used_lots])

    @property
    def loads(self) -> list[PressLoad]:
        """The press loads that it was in, each once."""
        return each_once([*self._given(PressLoad), *(row.load for row in self.loaded)])

    def things(self, kind: str) -> list[Model]:
        """Give what a stage of a kind is signed on, or what its readings are taken on.

        For a lot, those of wood; for a mix, those in the joints.
        """
        one = {"propeller": self.propeller, "blank": self.blank}
        if kind in one:
            thing = one[kind]
            return [thing] if thing is not None else []
        several: dict[str, list[Model]] = {
            "lot": [*self.timber_lots],
            "board": [*self.boards],
            "lamination": [*self.laminations],
            "mix": [*self.joint_mixes],
            "load": [*self.loads],
            "coupon": [*self.coupons],
        }
        return several[kind]

    def parts(self) -> dict[str, list[int]]:
        """Give by kind the keys of everything in it, the thing itself too.

        A record about any of these is a record about the thing.
        """
        everything: dict[str, Iterable[Model]] = {
            "lot": self.lots,
            "board": self.boards,
            "lamination": self.laminations,
            "mix": self.mixes,
            "load": self.loads,
            "coupon": self.coupons,
            "blank": self.things("blank"),
            "propeller": self.things("propeller"),
        }
        return {kind: [thing.pk for thing in of] for kind, of in everything.items()}

    def keys(self) -> set[Key]:
        """Give kind and key of everything in it, the thing itself too."""
        return {(kind, pk) for kind, pks in self.parts().items() for pk in pks}

    def _given(self, model: type[M]) -> list[M]:
        return [thing for thing in self.given if isinstance(thing, model)]


def each_once(things: Iterable[M]) -> list[M]:
    """Leave out repeats, keeping the order."""
    return list(dict.fromkeys(things))
