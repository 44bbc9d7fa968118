"""The public page of a propeller, as ready strings: nothing private reaches it."""

import json
from collections.abc import Mapping
from typing import Any

from records.documents.spelling import torque_range
from records.models import ConformityRecord, Propeller
from records.queries.conformity.design import mounting_facts
from records.queries.conformity.register import record_in_force
from records.queries.conformity.release import newer_revision
from records.queries.reach.holds import holds_on
from records.queries.service.owners import notices_in_force
from records.rules.service.public import public_state
from records.spelling.moments import day, when
from records.web.shared.fields import today
from records.web.shared.parts import Fact

CAUTION = (
    "A propeller that comes loose or breaks can kill. Fit, torque and inspect it as "
    "its approved design, the engine's and aircraft's makers and local rules say, by "
    "licensed people where they ask for it. In doubt, do not run it."
)
CARD = (
    "bolt",
    "torque_low_nm",
    "torque_high_nm",
    "threads_dry",
    "sequence",
    "retorque",
    "face_plate_mm",
)


def public_page(propeller: Propeller) -> dict[str, Any]:
    """Gather what a stranger may know of a propeller."""
    record = record_in_force(propeller)
    notices = notices_in_force(propeller)
    state = public_state(
        propeller,
        held=bool(holds_on("propeller", propeller.pk)),
        notices=notices,
        record=record,
    )
    supplied = _supplied(propeller, record)
    newer = newer_revision(propeller.revision)
    current = mounting_facts(newer) if newer else supplied
    revised = any(supplied[name] != current[name] for name in CARD)
    return {
        "propeller": propeller,
        "state": state,
        "facts": [
            ("Model", propeller.revision.design.model),
            ("Serial", propeller.serial),
            ("Conformity record", _record(record)),
        ],
        "notices": [
            (f"{n.number} of {when(n.happened_at)}: {n.title}", n.text) for n in notices
        ],
        "supplied": _card(supplied),
        "current": _card(current) if revised and newer else [],
        "current_revision": newer,
        "care": propeller.revision.care,
        "damage_limits": propeller.revision.damage_limits,
        "caution": CAUTION,
        "asked_on": day(today()),
    }


def _record(record: ConformityRecord | None) -> str:
    if record is None:
        return "none in force"
    return f"{record.number}, issue {record.issue} of {when(record.issued_at)}"


def _supplied(
    propeller: Propeller, record: ConformityRecord | None
) -> Mapping[str, Any]:
    """Give the torque card that was printed for it, or that of its design."""
    if record is not None:
        printed: dict[str, Any] = json.loads(record.facts).get("mounting", {})
        if all(name in printed for name in CARD):
            return printed
    return mounting_facts(propeller.revision)


def _card(mounting: Mapping[str, Any]) -> list[Fact]:
    threads = "dry" if mounting["threads_dry"] else "lubricated"
    return [
        Fact("Bolts", f"{mounting['bolt']}, threads {threads}"),
        Fact(
            "Torque",
            torque_range(mounting["torque_low_nm"], mounting["torque_high_nm"]),
        ),
        Fact("In this order", mounting["sequence"]),
        Fact("Again", mounting["retorque"]),
    ]
