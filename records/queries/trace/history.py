"""Where did it come from, and where did it go: each in a constant number of queries."""

from dataclasses import dataclass

from records.models import Blank, Gauge, Hold, Propeller
from records.queries.provenance.loading import provenance_of
from records.queries.provenance.made_of import Provenance
from records.queries.provenance.written import Written, gauges_used, written_about
from records.queries.reach.destinations import Destination, destinations
from records.queries.reach.holds import holds_on
from records.queries.reach.material import reached


@dataclass(frozen=True, slots=True)
class Reached:
    """All that was made of, or measured with, one thing."""

    blanks: list[Blank]
    propellers: list[Destination]


@dataclass(frozen=True, slots=True)
class History:
    """What went into one blank, or a propeller made of it, and what was seen."""

    made: Provenance
    written: Written
    gauges: list[Gauge]
    holds: list[Hold]


def where_to(kind: str, pk: int) -> Reached:
    """Find the blanks and propellers that a thing reached: two queries.

    A thing is named by its kind (`lot`, `board`, `lamination`, `mix`, `load`, `blank`,
    `propeller`, `coupon`, `gauge`) and its key. Corrected joints and void laminations
    reach nothing.
    """
    blanks = Blank.objects.filter(reached(kind, pk, "blank"))
    return Reached(
        blanks=list(blanks.select_related("revision__design").order_by("number", "pk")),
        propellers=destinations(reached(kind, pk, "propeller")),
    )


def where_from(thing: Propeller | Blank) -> History:
    """Find all that a thing was made of, and what was seen and decided of it."""
    made = provenance_of(thing)
    [written] = written_about([made])
    kind = "propeller" if isinstance(thing, Propeller) else "blank"
    return History(made, written, gauges_used(made, written), holds_on(kind, thing.pk))
