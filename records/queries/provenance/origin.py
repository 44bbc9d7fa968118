"""What a blank or propeller came from: the record, before it is shown anywhere."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TypeVar

from django.db.models import Model

from records.models import (
    Blank,
    Board,
    Coupon,
    Deviation,
    Gauge,
    Hold,
    JointSpread,
    Lamination,
    Lot,
    MaterialUse,
    Mix,
    PressLoad,
    Propeller,
    Reading,
    SignOff,
)

M = TypeVar("M", bound=Model)


@dataclass(frozen=True)
class Origin:
    """What went into one blank, or the propeller made of it, and what was seen.

    `void_laminations` are the numbers that fell out of the boards used: they explain
    the gaps. `lowest_pa` gives the lowest glue-line pressure seen in each load [Pa].
    """

    blank: Blank
    propeller: Propeller | None
    laminations: list[Lamination]
    void_laminations: list[Lamination]
    spreads: list[JointSpread]
    uses: list[MaterialUse]
    loads: list[PressLoad]
    coupons: list[Coupon]
    lowest_pa: dict[int, float] = field(default_factory=dict)
    readings: list[Reading] = field(default_factory=list)
    gauges: list[Gauge] = field(default_factory=list)
    signoffs: list[SignOff] = field(default_factory=list)
    deviations: list[Deviation] = field(default_factory=list)
    holds: list[Hold] = field(default_factory=list)

    @property
    def boards(self) -> list[Board]:
        """Give the boards that the laminations were sawn from, each once."""
        return each_once(lamination.board for lamination in self.laminations)

    @property
    def timber_lots(self) -> list[Lot]:
        """Give the timber lots of those boards, each once."""
        return each_once(board.lot for board in self.boards)

    @property
    def mixes(self) -> list[Mix]:
        """Give the mixes in the joints, then those used later, each once."""
        return mixes_in(self.spreads, self.uses)

    @property
    def glue_lots(self) -> list[Lot]:
        """Give the lots of resin and hardener in those mixes, each once."""
        pairs = [(mix.resin_lot, mix.hardener_lot) for mix in self.mixes]
        return each_once(lot for pair in pairs for lot in pair if lot is not None)

    @property
    def used_lots(self) -> list[Lot]:
        """Give the lots used after glue-up: edges, finish, repair; each once."""
        return each_once(use.lot for use in self.uses if use.lot is not None)

    @property
    def keys(self) -> dict[str, list[int]]:
        """Give the keys of everything that a record about this part may be about."""
        lots = [*self.timber_lots, *self.glue_lots, *self.used_lots]
        things: dict[str, Iterable[Model]] = {
            "lot": lots,
            "board": self.boards,
            "lamination": self.laminations,
            "mix": self.mixes,
            "load": self.loads,
            "coupon": self.coupons,
            "blank": [self.blank],
            "propeller": [self.propeller] if self.propeller else [],
        }
        return {kind: [t.pk for t in those] for kind, those in things.items()}


def mixes_in(spreads: list[JointSpread], uses: list[MaterialUse]) -> list[Mix]:
    """Give the mixes in some joints and later uses, each once, first use first."""
    later = [use.mix for use in uses if use.mix is not None]
    return each_once([*(spread.mix for spread in spreads), *later])


def each_once(things: Iterable[M]) -> list[M]:
    """Leave out repeats, keeping the order."""
    return list(dict.fromkeys(things))
