"""The conformity record's fields 29 to 32: what was accepted, declared and done."""

from decimal import Decimal

from records.documents.form import OPEN, Cell, Section, Table
from records.documents.spelling import (
    Fact,
    Speller,
    joined,
)
from records.spelling.quantities import in_unit


def deviations(facts: Fact) -> Section:
    """Field 29: what was accepted although it was outside; or that nothing was."""
    spell = Speller(facts)
    rows = [
        [
            c["number"],
            c["decision"],
            c["words"],
            f"{c['accepted_by']}, {spell.day(c['at'])}",
        ]
        for c in facts["concessions"]
    ]
    head = ["Number", "Decision", "What it is, and what it means", "Accepted by"]
    table = Table(head, rows, shares=[2, 2, 8, 5]) if rows else None
    return Section(
        "Concessions",
        [
            [
                Cell(
                    "29",
                    "Accepted although outside",
                    [] if rows else ["None"],
                    table=table,
                )
            ]
        ],
    )


def statement(facts: Fact) -> Section:
    """Fields 30 to 32: the declaration (ISO/IEC 17050-1), who signed, what went before.

    Of the standard: the record's number (a), issuer (b), object (c), statement (d),
    requirements (e), place and date (f), name, function and signature (g), limits (h).
    """
    spell, record, section = Speller(facts), facts["record"], facts["inspection"]
    return Section(
        "Statement",
        [
            [Cell("30", "Declared", _declared(facts))],
            [
                Cell("31", "Inspected by", _inspected(section, spell), share=5),
                Cell(
                    "31",
                    "Declared and signed for the maker by",
                    [
                        record["signer"],
                        (
                            "authorized by the maker to release propellers and "
                            "to issue their conformity records"
                        ),
                        f"{record['place'] or OPEN}, {spell.when(record['issued_at'])}",
                    ],
                    share=5,
                ),
                Cell("31", "By hand, where wanted", blank_mm=13, share=3),
            ],
            [Cell("32", "Service before this release", _service(facts, spell))],
        ],
    )


def _declared(facts: Fact) -> list[str]:
    design, record = facts["design"], facts["record"]
    wanted = [f"drawing {design['drawing']}, revision {design['revision']}"]
    if design["basis"] != "experimental":
        wanted.append(design["basis_reference"])
    wanted.append("the limits printed here, as in force on the day of each reading")
    with_ = " with the concessions of field 29" if facts["concessions"] else ""
    return [
        (
            "The maker declares under its sole responsibility that the propeller of "
            "fields 3 and 4 was made and inspected to "
            f"{'; '.join(wanted)}, and conforms to them{with_}."
        ),
        (
            "The records behind this declaration are on file with the maker and kept "
            f"{record['retention']}; the facts printed here are attached to the "
            "electronic copy."
        ),
        (
            "It speaks of the propeller as it left the maker. Airworthiness is decided "
            "by the approved design, local rules and licensed people."
        ),
    ]


def _inspected(fact: Fact, spell: Speller) -> list[str]:
    if fact["inspector"] is None:
        return []
    lines = [
        f"{fact['inspector']}, {spell.when(fact['at'])}",
        f"{fact['stage']}: {fact['meaning']}",
    ]
    if len(fact["kinds"]) == 1:
        return [*lines, f"Every stage of the propeller: {fact['kinds'][0]['kind']}"]
    return lines + [
        f"{group['kind']}: {', '.join(group['stages'])}" for group in fact["kinds"]
    ]


def _service(facts: Fact, spell: Speller) -> list[str]:
    return [
        joined(
            [
                spell.day(event["at"]),
                event["kind"],
                f"at {in_unit(Decimal(event['hours']), 'h')}" if event["hours"] else "",
                event["work"],
            ],
            ": ",
        )
        for event in facts["service"]
    ] or ["None: first release"]
