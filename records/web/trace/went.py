"""Where a material, press load or gauge went: the serials, exactly, with why."""

from typing import Any

from django.db.models import Model

from records.models import Coupon
from records.queries.provenance.chain import chain_of, made_of_all
from records.queries.subjects import called, kind_of, number_of
from records.queries.trace.history import Reached, where_to
from records.queries.trace.serials import ranges
from records.spelling.moments import when
from records.web.shared.hold_steps import hold_findings, hold_step, holds_of
from records.web.shared.pages import deviation_page, page_of
from records.web.shared.parts import Action


def went_rows(thing: Model) -> tuple[Reached, list[dict[str, Any]]]:
    """Find where a thing went, and spell a row for each serial: six queries."""
    kind, number = kind_of(thing), number_of(thing)
    reached = where_to(kind, thing.pk)
    made = made_of_all(reached.propellers)
    asked = ("mix", thing.mix.number) if isinstance(thing, Coupon) else (kind, number)
    rows = [
        {
            "serial": place.serial,
            "model": place.model,
            "state": place.state_name,
            "owner": place.owner,
            "handed_over": when(place.handed_over_at) if place.handed_over_at else "",
            "blank": place.blank_number,
            "through": "; ".join(chain_of(made[place.pk], *asked)),
        }
        for place in reached.propellers
    ]
    return reached, rows


def went_page(thing: Model, reached: Reached, why_not: str) -> dict[str, Any]:
    """Gather what stands above the list of serials."""
    places = reached.propellers
    gone = [place for place in places if place.state == "delivered"]
    holds = holds_of(thing)
    made = {place.blank for place in places}
    return {
        "thing": thing,
        "name": called(thing),
        "page": page_of(thing),
        "holds": hold_findings(holds, thing),
        "step": hold_step(holds, why_not)
        or Action("Open a deviation", deviation_page(thing), why_not),
        "counts": [
            ("Serials", str(len(places))),
            ("In the shop", str(sum(place.in_shop for place in places))),
            ("Delivered", str(len(gone))),
            ("Blanks", str(len(reached.blanks))),
        ],
        "ranges": ranges(place.serial for place in places),
        "blanks": [
            (blank.number, page_of(blank), blank.get_state_display())
            for blank in reached.blanks
            if blank.pk not in made
        ],
    }
