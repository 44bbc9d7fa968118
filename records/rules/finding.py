"""What a rule says when asked: a sentence, and how much it weighs."""

from dataclasses import dataclass
from enum import StrEnum


class Weight(StrEnum):
    """A blocker stops the act; a warning is shown and written down."""

    BLOCKS = "blocks"
    WARNS = "warns"


@dataclass(frozen=True, slots=True)
class Finding:
    """One sentence fit for the person at the bench.

    `field` names the form field that it belongs to, or "" for the whole.
    """

    sentence: str
    field: str = ""
    weight: Weight = Weight.BLOCKS

    @property
    def blocks(self) -> bool:
        """Tell whether the act may not go on."""
        return self.weight is Weight.BLOCKS


def warning(sentence: str, field: str = "") -> Finding:
    """Make a finding that warns and does not block."""
    return Finding(sentence, field, Weight.WARNS)
