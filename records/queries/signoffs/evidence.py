"""The records that a stage rests on besides its readings, as facts to sign."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from django.db.models import Count, Min, Model

from records.models import (
    BoardCheck,
    DeviationSubject,
    LotCheck,
    PressSample,
    Stage,
)
from records.models.base import Row
from records.queries.provenance.made_of import Provenance


@dataclass(slots=True)
class Evidence:
    """Checks, stack, joints, loads and coupons of a chain.

    `accepted` are the subjects of closed deviations that accept something outside.
    """

    provenance: Provenance
    lot_checks: dict[int, list[LotCheck]]
    board_checks: dict[int, list[BoardCheck]]
    samples: dict[int, tuple[int, float]]
    accepted: list[DeviationSubject] = field(default_factory=list)

    def facts(self, stage: Stage, subject: Model) -> Any:
        """Spell out what a stage rests on, None when on its readings only."""
        kinds = Stage.Evidence
        if stage.evidence == kinds.LOT_CHECK:
            return [[c.pk, c.accepted] for c in self.lot_checks.get(subject.pk, [])]
        if stage.evidence == kinds.BOARD_CHECK:
            return [[c.pk, c.accepted] for c in self.board_checks.get(subject.pk, [])]
        spelled = {
            kinds.STACK: self._stack,
            kinds.JOINTS: self._joints,
            kinds.PRESS: self._loads,
            kinds.COUPON: self._coupons,
        }
        spell = spelled.get(kinds(stage.evidence))
        return spell() if spell else None

    def rows(self, stage: Stage, subject: Model) -> list[Row]:
        """List the records that a stage rests on: who wrote them had a hand in it."""
        kinds = Stage.Evidence
        tests = [
            test for coupon in self.provenance.coupons for test in coupon.tests.all()
        ]
        rows: dict[str, Sequence[Row]] = {
            kinds.LOT_CHECK: self.lot_checks.get(subject.pk, []),
            kinds.BOARD_CHECK: self.board_checks.get(subject.pk, []),
            kinds.STACK: self.provenance.laminations,
            kinds.JOINTS: [*self.provenance.spreads, *self.provenance.joint_mixes],
            kinds.PRESS: self.provenance.loads,
            kinds.COUPON: [*self.provenance.coupons, *tests],
        }
        return list(rows.get(stage.evidence, []))

    def _stack(self) -> list[Any]:
        return [[x.position, x.number, x.turned] for x in self.provenance.laminations]

    def _joints(self) -> list[Any]:
        spreads = self.provenance.spreads
        return [[s.pk, s.joint, s.mix.number, s.side, s.verdict] for s in spreads]

    def _loads(self) -> list[Any]:
        return [
            [x.number, bool(x.off_at), *map(str, self.samples.get(x.pk, (0, "")))]
            for x in self.provenance.loads
        ]

    def _coupons(self) -> list[Any]:
        return [
            [c.number, t.pk, t.verdict]
            for c in self.provenance.coupons
            for t in c.tests.all()
        ]


def evidence_of(provenance: Provenance) -> Evidence:
    """Read the checks and samples of a chain: three queries."""
    lots: defaultdict[int, list[LotCheck]] = defaultdict(list)
    for lot_check in LotCheck.objects.filter(lot__in=provenance.lots).order_by("pk"):
        lots[lot_check.lot_id].append(lot_check)
    boards: defaultdict[int, list[BoardCheck]] = defaultdict(list)
    for check in BoardCheck.objects.filter(board__in=provenance.boards).order_by("pk"):
        boards[check.board_id].append(check)
    seen = (
        PressSample.objects.filter(load__in=provenance.loads)
        .order_by()
        .values("load")
        .annotate(count=Count("pk"), lowest=Min("glue_line_pa"))
    )
    samples = {row["load"]: (row["count"], row["lowest"]) for row in seen}
    return Evidence(provenance, lots, boards, samples)
