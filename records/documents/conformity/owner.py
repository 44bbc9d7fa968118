"""The conformity record's fields 33 to 37: the owner's part."""

from records.documents.form import Cell, Section, Table
from records.documents.spelling import Fact, Speller, in_groups
from records.documents.tags.labels import link_for

LOG_ROWS = 14
CAUTION = (
    "A propeller that comes loose or breaks can kill. Fit, torque and inspect it as "
    "its approved design, the engine's and aircraft's makers and local rules say, by "
    "licensed people where they ask for it. In doubt, do not run it."
)


def owner_part(facts: Fact, picture: str) -> Section:
    """Care, notices, the tag and packing; `picture` is the tag as a data address."""
    design, maker = facts["design"], facts["maker"]
    return Section(
        "For the owner",
        [
            [
                Cell("34", "Care and storage", design["care"].splitlines(), share=5),
                Cell(
                    "34",
                    "Damage limits; out of service",
                    design["damage_limits"].splitlines(),
                    share=5,
                ),
            ],
            [
                Cell("34", "Trouble, or a new owner", _call(maker), share=5),
                Cell(
                    "35",
                    "Notices in force on the day of issue",
                    _notices(facts),
                    share=5,
                ),
            ],
            [
                Cell("36", "Tag", _tag(facts), picture=picture, share=5),
                Cell(
                    "37",
                    "Packing; keep until fitting",
                    [facts["record"]["packing"]],
                    share=5,
                ),
            ],
        ],
        new_page=True,
        caution=CAUTION,
    )


def log_sheet() -> Section:
    """Field 33: a log to fill in by hand."""
    head = ["Date", "Aircraft", "Engine", "Hours", "Torque set", "Done and found", "By"]
    empty = [""] * len(head)
    table = Table(head, [empty] * LOG_ROWS, shares=[3, 4, 4, 2, 3, 8, 3])
    label = "Log: fitted, torque checked, removed, repaired"
    return Section("", [[Cell("33", label, table=table)]])


def link(facts: Fact) -> str:
    """Spell the link that the tag carries."""
    tag = facts["tag"]
    return link_for(tag["address"], tag["code"], facts["propeller"]["serial"])


def _call(maker: Fact) -> list[str]:
    return [
        (
            "Report damage, vibration or loose bolts to the maker before the next run: "
            f"{maker['contact'] or maker['name']}."
        ),
        (
            "A new owner writes name, address and the serial to the maker, to be told "
            "of notices for this propeller."
        ),
    ]


def _notices(facts: Fact) -> list[str]:
    spell = Speller(facts)
    notices = [
        f"{n['number']} of {spell.day(n['issued_at'])}: {n['title']}"
        + (". DO NOT FLY until it is done" if n["do_not_fly"] else "")
        for n in facts["notices"]
    ] or ["None"]
    return [*notices, f"Later ones: scan the tag, or {facts['tag']['address']}"]


def _tag(facts: Fact) -> list[str]:
    return [
        f"Serial {facts['propeller']['serial']}",
        f"Code {in_groups(facts['tag']['code'], 4)}",
        link(facts),
    ]
