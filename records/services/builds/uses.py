"""Note what was put on a blank or propeller after glue-up: edge, finish, repair."""

import datetime as dt

from records.models import Blank, Lot, MaterialUse, Mix, Propeller, Stage
from records.queries.subjects import kind_of, number_of
from records.rules.builds.uses import material_may_be_used
from records.rules.moments import already_happened
from records.services.ledger import Act, Entry
from records.services.refusal import refuse_if_blocked


def use_material(
    *,
    act: Act,
    part: Blank | Propeller,
    material: Lot | Mix,
    place: str,
    happened_at: dt.datetime,
    stage: Stage | None = None,
) -> MaterialUse:
    """Note that a lot, or a mix of glue, was put on a part: where, and for what.

    From then on, whatever is found wrong with the material reaches the part.
    """
    with Entry(act, "use material") as entry:
        entry.subject = number_of(part)
        refuse_if_blocked(
            [
                *already_happened(happened_at, act.at),
                *material_may_be_used(material, part, place, happened_at),
            ]
        )
        use = MaterialUse(place=place.strip(), happened_at=happened_at, stage=stage)
        setattr(use, kind_of(material), material)
        setattr(use, kind_of(part), part)
        return entry.add(use)
