"""The conformity record's fields 1 to 21: heading, identity, construction, mounting."""

from collections.abc import Iterable
from decimal import Decimal

from records.documents.form import OPEN, Cell, Section, Table
from records.documents.spelling import (
    Fact,
    Speller,
    figure,
    in_full,
    joined,
    length,
    short_figure,
    torque_range,
)
from records.spelling.quantities import both

BASIS = {
    "certificated": (
        "CERTIFICATED",
        (
            "Made to the type certificate named here. This record is no authorized "
            "release certificate and no authority to install."
        ),
    ),
    "light_sport": (
        "STANDARD FOR LIGHT-SPORT PROPELLERS",
        "Declared by the maker to the standard named here. No type certificate.",
    ),
    "experimental": (
        "EXPERIMENTAL OR AMATEUR-BUILT, NO APPROVAL",
        (
            "No authority has approved this propeller or its maker. It is not eligible "
            "for a type-certificated aircraft."
        ),
    ),
}


def heading(facts: Fact) -> Section:
    """Fields 1 and 2: which paper, whose, on what basis."""
    spell, maker = Speller(facts), facts["maker"]
    title, words = BASIS[facts["design"]["basis"]]
    return Section(
        "",
        [
            [
                Cell("1", "Document", _document(facts, spell), strong=True, share=5),
                Cell(
                    "2",
                    "Maker",
                    [maker["name"], *maker["address"].splitlines(), maker["contact"]],
                    share=4,
                ),
                Cell(
                    "2",
                    "Certification basis",
                    [title, _reference(facts), words],
                    share=6,
                ),
            ]
        ],
    )


def _document(facts: Fact, spell: Speller) -> list[str]:
    record = facts["record"]
    old = record["replaces"]
    lines = [
        f"Conformity record {record['number']}",
        f"Issue {record['issue']} of {spell.day(record['issued_at'])}",
    ]
    if old is None:
        return [*lines, "Original"]
    return [
        *lines,
        (
            f"Replaces {old['number']}, issue {old['issue']} of "
            f"{spell.day(old['issued_at'])}: {old['reason']}"
        ),
    ]


def _reference(facts: Fact) -> str:
    """Name certificate or standard; an experimental propeller never names any."""
    design = facts["design"]
    if design["basis"] == "experimental":
        return ""
    return str(design["basis_reference"])


def identity(facts: Fact) -> Section:
    """Fields 3 to 11: which propeller this is."""
    spell, design, made = Speller(facts), facts["design"], facts["propeller"]
    pitch = f"{length(design['pitch_mm'])} at {_reference_station(facts)}"
    return Section(
        "Identity",
        [
            [
                Cell("3", "Model", [design["model"]], strong=True, share=3),
                Cell("4", "Serial, as marked", [made["serial"]], strong=True, share=4),
                Cell("5", "Rotation; fitted as", _rotation(design), share=5),
                Cell("6", "Blades", [str(design["blades"])], share=1),
            ],
            [
                Cell("7", "Diameter", [length(design["diameter_mm"])], share=3),
                Cell("8", "Pitch, and where", [pitch], share=6),
                Cell(
                    "9",
                    "Pattern and revision",
                    [f"{design['drawing']}, revision {design['revision']}"],
                    share=4,
                ),
            ],
            [
                Cell(
                    "10",
                    "Completed; released",
                    [
                        (
                            f"{spell.day(made['completed_at'])}; "
                            f"released {spell.day(made['released_at'])}"
                        )
                    ],
                    share=5,
                ),
                Cell("11", "Mass", [figure(r) for r in made["mass"][:1]], share=3),
                Cell("4", "Marked on the hub", made["marked_as"], share=5),
            ],
            *_designated(facts, spell),
        ],
    )


def _rotation(design: Fact) -> list[str]:
    return [f"{design['rotation']}; {design['mounting']}"]


def _reference_station(facts: Fact) -> str:
    design = facts["design"]
    angle = next(
        (
            f", {s['angle_deg']}°"
            for s in design["stations"]
            if s["radius_mm"] == design["reference_station_mm"]
        ),
        "",
    )
    return f"{length(design['reference_station_mm'])}{angle}"


def _designated(facts: Fact, spell: Speller) -> Iterable[list[Cell]]:
    changes = [
        f"{spell.day(d['at'])}: from {d['before']} to {d['after']}. {d['reason']}"
        for d in facts["propeller"]["designated"]
    ]
    if changes:
        yield [Cell("9", "Designated anew; earlier markings struck", changes)]


def construction(facts: Fact) -> Section:
    """Fields 12 to 17: wood, glue, edges, finish, balance weights."""
    spell, built, design = Speller(facts), facts["construction"], facts["design"]
    return Section(
        "Construction",
        [
            [
                Cell("12", "Laminations", _laminations(facts), share=5),
                Cell("13", "Glue, by mix", _glue(built, spell), share=5),
            ],
            [Cell("14", "Timber: lamination of board of lot", [_timber(built)])],
            [
                Cell("15", "Edges and tips", _later(design["edge_protection"], built)),
                Cell("16", "Finish system", [design["finish_system"]]),
                Cell(
                    "17",
                    "Balance weights or material fitted",
                    built["balance_weights"] or ["None"],
                ),
            ],
        ],
    )


def _laminations(facts: Fact) -> list[str]:
    laid = facts["construction"]["laminations"]
    by_species: dict[tuple[str, str], list[str]] = {}
    for one in laid:
        key = (one["species"], one["thickness_mm"])
        by_species.setdefault(key, []).append(str(one["place"]))
    return [
        f"{len(places)} of {species}, {length(thickness)} each "
        f"(place {', '.join(places)})"
        for (species, thickness), places in by_species.items()
    ]


def _glue(built: Fact, spell: Speller) -> list[str]:
    return [
        joined(
            [
                f"Mix {mix['mix']}: {mix['product']}",
                mix["hardener"],
                mix["family"],
                f"joints {', '.join(map(str, mix['joints']))}",
                spell.day(mix["mixed_at"]),
            ]
        )
        for mix in built["glue"]
    ]


def _timber(built: Fact) -> str:
    return "; ".join(
        f"{one['number']} of {one['board']} of {one['lot']}"
        for one in built["laminations"]
    )


def _later(planned: str, built: Fact) -> list[str]:
    put_on = [
        f"{u['place']}: {u['material']} {u['number']}" for u in built["put_on_later"]
    ]
    return [planned, *put_on] if planned or put_on else ["None"]


def mounting(facts: Fact) -> Section:
    """Fields 18 to 21: hub, bolts, torque, limits."""
    hub, design = facts["mounting"], facts["design"]
    return Section(
        "Mounting",
        [
            [
                Cell("18", "Hub, as drawn and as read", table=_hub(facts), share=8),
                Cell("19", "Bolts and torque", _bolts(hub), strong=True, share=5),
            ],
            [
                Cell("20", "Torque again", hub["retorque"].splitlines(), share=8),
                Cell("21", "Limits", _limits(design), share=5),
            ],
        ],
        caution=(
            "A loose or over-tightened hub breaks propellers. Torque, face plate and "
            "bolts are those of the approved design where there is one; local rules "
            "and licensed practice come first."
        ),
    )


def _hub(facts: Fact) -> Table:
    hub = facts["mounting"]
    read = {r["name"]: in_full(r) for r in hub["read"]}
    read |= {r["name"]: in_full(r) for r in hub["hub_thickness_read"]}
    holes = f"{hub['bolt_holes']} of {length(hub['bolt_hole_mm'])}"
    drawn = [
        ("Hub thickness", length(hub["hub_thickness_mm"])),
        ("Hub diameter", length(hub["hub_diameter_mm"])),
        ("Centre bore", length(hub["bore_mm"])),
        ("Bolt circle", length(hub["bolt_circle_mm"])),
        ("Bolt hole, the widest", holes),
        ("Counterbores", hub["counterbore"] or "none"),
    ]
    rows = [[name, figure, read.pop(name, OPEN)] for name, figure in drawn]
    rows += [[name, OPEN, shown] for name, shown in read.items()]
    head = ["", "Drawn", f"Read{_at_moisture(facts)}"]
    return Table(head, rows, shares=[5, 6, 9])


def _at_moisture(facts: Fact) -> str:
    seen = [short_figure(r) for r in facts["measured"]["moisture"][:1]]
    return f" at {seen[0]} moisture" if seen else ""


def _bolts(hub: Fact) -> list[str]:
    threads = "threads dry" if hub["threads_dry"] else "threads lubricated"
    return [
        torque_range(hub["torque_low_nm"], hub["torque_high_nm"]),
        f"{hub['bolt']}, {threads}",
        hub["sequence"],
        f"Face plate at least {length(hub['face_plate_mm'])} across",
    ]


def _limits(design: Fact) -> list[str]:
    return [
        (
            f"At most {design['max_rpm']} rpm and "
            f"{both(Decimal(design['max_power_kw']), 'kW')}"
        ),
        design["suited_to"],
    ]
