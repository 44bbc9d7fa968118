"""Verdicts: a shape, a word, and a detail. Never a colour alone."""

from dataclasses import dataclass
from typing import Final

INSIDE, OUTSIDE, UNDECIDED, NO_LIMIT = "inside", "outside", "undecided", "no_limit"
HOLD, OK, WAITING, STALE, VOID = "hold", "ok", "waiting", "stale", "void"
SHAPES: Final = (
    *(INSIDE, OUTSIDE, UNDECIDED, NO_LIMIT),
    *(HOLD, OK, WAITING, STALE, VOID),
)
"""The signs that templates/parts/shape.html draws."""
_WORDS: Final = {NO_LIMIT: "no limit", HOLD: "on hold"}


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is said of a thing at a glance: one of `SHAPES`, a word, a detail."""

    shape: str
    word: str = ""
    detail: str = ""

    def __post_init__(self) -> None:
        """Spell the word by the shape where none is given."""
        if self.shape not in SHAPES:
            raise ValueError(f"{self.shape} is no sign of a verdict: {SHAPES}")
        if not self.word:
            object.__setattr__(self, "word", verdict_word(self.shape))


def verdict_word(shape: str) -> str:
    """Spell the word of a verdict that has no other: "no limit"."""
    return _WORDS.get(shape, shape)


def loud(shape: str) -> str:
    """Spell a verdict for paper, where what is not inside must not be overlooked."""
    word = verdict_word(shape)
    return word.upper() if shape in {OUTSIDE, UNDECIDED} else word
