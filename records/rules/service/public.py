"""What a stranger who scans a propeller's tag is told: its state, in plain words."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from records.models import ConformityRecord, Notice, Propeller

State = Propeller.State
STOP: Final = "outside"
ASK: Final = "hold"
GOOD: Final = "ok"
WAIT: Final = "waiting"
WORDS: Final[dict[str, tuple[str, str, str]]] = {
    State.IN_WORK: (
        WAIT,
        "being made",
        "It is not released by its maker. Do not fit it.",
    ),
    State.RELEASED: (
        GOOD,
        "released by its maker",
        "It is released and not yet handed over.",
    ),
    State.DELIVERED: (
        GOOD,
        "delivered",
        "Its maker knows of nothing against it.",
    ),
    State.RETURNED: (
        WAIT,
        "back with its maker",
        "It is back for work and not released again. Do not fit it.",
    ),
    State.RETIRED: (
        STOP,
        "taken out of service",
        "It was taken out of service for good. Do not use it.",
    ),
    State.SCRAPPED: (
        STOP,
        "scrapped",
        "It was scrapped. Do not use it, and tell its maker where you found it.",
    ),
}
HELD: Final = (
    "Its maker has put it, or something it is made of, under question. Do not run it "
    "before you have spoken with the maker."
)


@dataclass(frozen=True, slots=True)
class PublicState:
    """A verdict, its word, and what to do; nothing private."""

    verdict: str
    word: str
    sentences: tuple[str, ...]


def public_state(
    propeller: Propeller,
    *,
    held: bool,
    notices: Sequence[Notice],
    record: ConformityRecord | None,
) -> PublicState:
    """Say how a propeller stands: the worst of state, holds and notices first."""
    verdict, word, sentence = WORDS[propeller.state]
    if verdict == STOP:
        return PublicState(verdict, word, (sentence,))
    unreleased = verdict == WAIT
    sentences = []
    stop = [notice for notice in notices if notice.do_not_fly]
    if stop:
        verdict, word = STOP, "do not fly"
        sentences += [f"Notice {n.number} says do not fly: {n.title}." for n in stop]
    if held:
        verdict, word = (verdict if stop else ASK), (word if stop else "under question")
        sentences.append(HELD)
    other = [notice for notice in notices if not notice.do_not_fly]
    sentences += [f"Notice {n.number} is in force: {n.title}." for n in other]
    if not sentences or unreleased:
        sentences.append(sentence)
    if record is None and propeller.state == State.DELIVERED:
        sentences.append("No conformity record of it is in force.")
    if other and verdict == GOOD:
        verdict, word = ASK, "notice in force"
    return PublicState(verdict, word, tuple(sentences))
