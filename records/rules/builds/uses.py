"""Whether this material may be put on this part, after glue-up."""

import datetime as dt

from django.db.models import Model
from django.utils.timezone import localdate

from records.models import Blank, Lot, Mix, Propeller
from records.queries.subjects import called
from records.rules.finding import Finding
from records.rules.fitness import lot_usable
from records.rules.holds import held

GONE = (Propeller.State.SCRAPPED, Propeller.State.RETIRED, Blank.State.SCRAPPED)


def material_may_be_used(
    material: Lot | Mix, part: Blank | Propeller, place: str, at: dt.datetime
) -> list[Finding]:
    """Say what speaks against putting a lot or a mix on a blank or propeller."""
    findings = [] if place.strip() else [Finding("Say where, and for what.", "place")]
    if part.state in GONE:
        findings.append(Finding(f"{_start(part)} is {part.get_state_display()}."))
    if isinstance(material, Lot):
        findings += lot_usable(material, localdate(at))
    elif at < material.mixed_at:
        findings.append(
            Finding(
                f"Mix {material} was made after that. Check the time.", "happened_at"
            )
        )
    return findings + held(material)


def _start(part: Model) -> str:
    name = called(part)
    return f"{name[0].upper()}{name[1:]}"
