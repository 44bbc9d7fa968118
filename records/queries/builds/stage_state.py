"""One stage of one thing: what was read, what went stale, who signed."""

from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from django.db.models import Model

from records.models import Characteristic, Reading, SignOff, Stage, StageEvent
from records.queries.provenance.made_of import Provenance
from records.queries.signoffs.digest import (
    Signature,
    digest_of,
    reading_facts,
    signature,
)
from records.queries.signoffs.evidence import Evidence
from records.queries.subjects import called


@dataclass(frozen=True)
class StageState:
    """A stage of a lot, board, blank or propeller, as it stands now.

    `readings` are the standing ones, oldest first, and `replaced` those that were
    corrected or withdrawn; `stale` says why one of them no
    longer counts; `accepted` names those outside that a closed deviation accepts.
    """

    stage: Stage
    kind: str
    subject: Model
    provenance: Provenance
    evidence: Evidence
    readings: list[Reading] = field(default_factory=list)
    stale: dict[int, str] = field(default_factory=dict)
    repeats: list[int] = field(default_factory=list)
    accepted: frozenset[int] = frozenset()
    replaced: list[Reading] = field(default_factory=list)
    events: list[StageEvent] = field(default_factory=list)
    signoffs: list[SignOff] = field(default_factory=list)

    @cached_property
    def signatures(self) -> list[Signature]:
        """The signatures, oldest first, each held against what it covers now."""
        now = self.digest() if self.signoffs else ""
        return [signature(signoff, now) for signoff in self.signoffs]

    @property
    def current(self) -> list[Reading]:
        """The readings that count."""
        return [r for r in self.readings if r.pk not in self.stale]

    @property
    def signed(self) -> SignOff | None:
        """The newest signature that stands, or None."""
        standing = [s.signoff for s in self.signatures if not s.void]
        return standing[-1] if standing else None

    def covers(self) -> dict[str, Any]:
        """Spell out what a signature of this stage covers now.

        The readings as they stand and which of them are stale, the reworks that
        asked to repeat the stage, and the records that it rests on besides.
        """
        return {
            "stage": self.stage.code,
            "subject": called(self.subject),
            "readings": [reading_facts(r) for r in sorted(self.readings, key=_by_key)],
            "stale": sorted(self.stale),
            "repeats": sorted(self.repeats),
            "rests_on": self.evidence.facts(self.stage, self.subject),
        }

    def digest(self) -> str:
        """Digest what a signature of this stage covers now."""
        return digest_of(self.covers())

    def characteristics(self) -> list[Characteristic]:
        """List what the stage asks for, in order."""
        return list(self.stage.characteristics.all())

    def things(self, kind: str) -> list[Model]:
        """List the things of a kind that this stage's readings are taken on."""
        return [self.subject] if kind == self.kind else self.provenance.things(kind)


def _by_key(reading: Reading) -> int:
    return reading.pk
