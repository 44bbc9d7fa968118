"""What a decision about a deviation needs, by its kind."""

from collections.abc import Sequence

from django.db.models import Model

from records.models import (
    Blank,
    Board,
    DeviationSubject,
    Disposition,
    Gauge,
    Lamination,
    Lot,
    Propeller,
    Stage,
)
from records.queries.reach.material import mix_is_used
from records.queries.subjects import called, kind_of
from records.rules.deviations.opening import subject_called
from records.rules.finding import Finding

CONCESSIONS = (Disposition.Kind.USE_AS_IS, Disposition.Kind.REPAIR)
NO_RETURN: dict[type[Model], str] = {
    Propeller: Propeller.State.SCRAPPED,
    Blank: Blank.State.SCRAPPED,
    Lamination: Lamination.State.VOID,
    Board: Board.State.REFUSED,
    Lot: Lot.State.REFUSED,
    Gauge: Gauge.State.WITHDRAWN,
}
"""What a thing becomes when it is scrapped."""


def words_are_given(
    kind: str, reason: str, design_authority: str, plain_words: str
) -> list[Finding]:
    """Say which words a decision still needs.

    Use as is and repair leave the drawing: the design's authority agrees, and the
    customer is told in plain words.
    """
    needed = [("reason", reason, "Say why: what the decision rests on.")]
    if kind in CONCESSIONS:
        label = Disposition.Kind(kind).label
        needed += [
            (
                "design_authority",
                design_authority,
                f"Name who answers for the design and agreed to {label}, and where.",
            ),
            (
                "plain_words",
                plain_words,
                "Say in plain words, for the customer's record, what differs.",
            ),
        ]
    return [
        Finding(sentence, field) for field, text, sentence in needed if not text.strip()
    ]


def stages_are_named(
    kind: str, repeat: Sequence[Stage], subjects: Sequence[DeviationSubject]
) -> list[Finding]:
    """Say what is wrong with the stages that a decision repeats."""
    if kind != Disposition.Kind.REWORK:
        extra = "Only rework repeats stages. Leave them empty, or choose rework."
        return [Finding(extra, "repeat")] if repeat else []
    if not repeat:
        return [Finding("Name the stages that the rework repeats.", "repeat")]
    routes = {route for s in subjects if (route := _route_of(s.subject)) is not None}
    strangers = [s.name for s in repeat if routes and s.revision_id not in routes]
    return [
        Finding(f"{name} is not a stage of its route.", "repeat") for name in strangers
    ]


def _route_of(thing: Model) -> int | None:
    if isinstance(thing, Propeller):
        return thing.blank.route_id
    return thing.route_id if isinstance(thing, Blank) else None


def nothing_was_decided(subjects: Sequence[DeviationSubject]) -> list[Finding]:
    """Say what is wrong with what a decision is about."""
    if subjects:
        return []
    return [Finding("Everything that it touches is decided on already.", "subjects")]


def may_be_scrapped(
    subjects: Sequence[DeviationSubject], *, proven: bool
) -> list[Finding]:
    """Say what speaks against scrapping these things."""
    findings = [f for subject in subjects for f in _scrap_findings(subject)]
    if not proven:
        findings.append(
            Finding(
                "Scrap needs a photo of the part made unusable: sawn through, or "
                "marked for good.",
                "photo",
            )
        )
    return findings


def _scrap_findings(subject: DeviationSubject) -> list[Finding]:
    thing, name = subject.subject, subject_called(subject)
    gone = NO_RETURN.get(type(thing))
    state = getattr(thing, "state", None)
    if subject.joint:
        sentence = f"A joint can't be scrapped alone: name the blank, not {name}."
    elif gone is None:
        return _mix_findings(thing, name)
    elif state == gone and not isinstance(thing, Lot | Board | Gauge):
        sentence = f"{name[0].upper()}{name[1:]} is scrapped already."
    elif isinstance(thing, Lamination) and thing.blank_id is not None:
        sentence = f"{name} is laid in a blank. Take it out, or scrap the blank."
    else:
        return []
    return [Finding(sentence, "subjects")]


def _mix_findings(thing: Model, name: str) -> list[Finding]:
    if kind_of(thing) == "mix" and not mix_is_used(thing.pk):
        return []
    return [
        Finding(
            f"The {name} can't be scrapped by itself. Add the blanks that it reached "
            "and scrap those.",
            "subjects",
        )
    ]


def may_be_returned(subjects: Sequence[DeviationSubject]) -> list[Finding]:
    """Say what can't go back to a supplier: all but lots and boards."""
    return [
        Finding(
            f"Only a lot or a board goes back to a supplier, not {called(s.subject)}.",
            "subjects",
        )
        for s in subjects
        if not isinstance(s.subject, Lot | Board)
    ]
