"""Designs, and their revisions, frozen as soon as they are issued."""

from collections.abc import Sequence
from typing import Any

from django.utils.timezone import localtime

from records.models import (
    AllowedSpecies,
    Authority,
    Design,
    Material,
    Revision,
    Station,
)
from records.rules.authority import may
from records.rules.designs import revision_is_sound
from records.rules.finding import Finding
from records.services.ledger import Act, Entry
from records.services.refusal import refuse_if_blocked


def add_design(*, act: Act, model: str, description: str = "") -> Design:
    """Put a propeller model in the book; its drawing comes with its revisions."""
    with Entry(act, "add design") as entry:
        entry.subject = model
        refuse_if_blocked(_may_manage(act))
        return entry.add(Design(model=model.strip(), description=description.strip()))


def set_design_use(*, act: Act, design: Design, in_use: bool) -> Design:
    """Take a design out of use for new builds, or back."""
    with Entry(act, "set design use") as entry:
        entry.subject = design.model
        refuse_if_blocked(_may_manage(act))
        return entry.change(design, in_use=in_use)


def issue_revision(
    *,
    act: Act,
    design: Design,
    stations: Sequence[dict[str, Any]],
    species: Sequence[Material],
    **fields: Any,
) -> Revision:
    """Issue a revision of a design with its station table and the species allowed.

    `fields` are those of `Revision`, each row of `stations` those of `Station`, in
    mm and degrees. Frozen from now on: a change is another revision. Raises
    `Refusal` with all that is wrong, a station's at "stations-2-angle_deg".
    """
    with Entry(act, "issue design revision") as entry:
        entry.subject = f"{design.model} {fields.get('number', '')}".strip()
        unsound = revision_is_sound(design, fields, stations, species)
        refuse_if_blocked([*_may_manage(act), *unsound])
        revision = entry.add(Revision(design=design, **fields))
        rows = sorted(stations, key=lambda row: row["radius_mm"])
        entry.add_many([Station(revision=revision, **row) for row in rows])
        entry.add_many([AllowedSpecies(revision=revision, material=m) for m in species])
        return revision


def _may_manage(act: Act) -> list[Finding]:
    return may(act.by, Authority.Act.MANAGE, localtime(act.at).date())
