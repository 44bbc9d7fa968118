"""The answer to "which serials, and where are they", for the screen and as CSV."""

from typing import Any

from records.queries.provenance.chain import in_short, made_of_all
from records.queries.provenance.made_of import Provenance
from records.queries.reach.destinations import Destination
from records.queries.reach.suspects import Answer, Question
from records.queries.subjects import called
from records.queries.trace.serials import ranges
from records.spelling.moments import day
from records.web.shared.parts import Fact

NEIGHBOURS = 100


def in_words(question: Question) -> str:
    """Spell the question, so that the answer carries its rule with it."""
    parts = []
    if question.materials:
        names = ", ".join(called(material) for material in question.materials)
        parts.append(f"made with {names}")
    start, until = question.pressed_from, question.pressed_until
    if start and until:
        parts.append(f"pressed from {day(start)} to {day(until)}, both included")
    elif start:
        parts.append(f"pressed on or after {day(start)}")
    elif until:
        parts.append(f"pressed on or before {day(until)}")
    return f"Serials {', or '.join(parts)}"


def answer_rows(answer: Answer, *, neighbours: int | None) -> list[dict[str, Any]]:
    """Spell a row a serial: those in the answer, then those out of it.

    `neighbours` bounds those out of it, nearest serials first; None gives all.
    """
    out = answer.excluded if neighbours is None else _nearest(answer, neighbours)
    made = made_of_all([*answer.included, *out])
    return [
        *(_row(place, made[place.pk], answer) for place in answer.included),
        *(_row(place, made[place.pk], answer) for place in out),
    ]


def answer_facts(answer: Answer) -> list[Fact]:
    """Sum the answer up."""
    places = answer.included
    return [
        Fact("Serials named", str(len(places))),
        Fact("In the shop", str(sum(place.in_shop for place in places))),
        Fact("Delivered", str(sum(place.state == "delivered" for place in places))),
        Fact("Not named", str(len(answer.excluded))),
        Fact("Exactly", ", ".join(ranges(p.serial for p in places)) or "none"),
    ]


def _nearest(answer: Answer, most: int) -> list[Destination]:
    """Give those out of the answer that stand nearest to those in it, by serial."""
    if not answer.included or len(answer.excluded) <= most:
        return answer.excluded[:most]
    first, last = answer.included[0].serial, answer.included[-1].serial
    before = [p for p in answer.excluded if p.serial < first]
    between = [p for p in answer.excluded if first <= p.serial <= last]
    after = [p for p in answer.excluded if p.serial > last]
    room = max(0, most - len(between)) // 2
    near = [*(before[-room:] if room else []), *between, *after[:room]]
    return near[:most]


def _row(place: Destination, made: Provenance, answer: Answer) -> dict[str, Any]:
    reasons = answer.because.get(place.pk, [])
    return {
        "serial": place.serial,
        "answer": "yes" if reasons else "no",
        "model": place.model,
        "state": place.state_name,
        "owner": place.owner,
        "blank": place.blank_number,
        "through": "; ".join(reasons),
        "made_of": in_short(made),
    }
