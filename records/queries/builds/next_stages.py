"""At which stage every blank and propeller in work is: three queries for all."""

from collections import defaultdict
from dataclasses import dataclass

from records.models import Blank, Propeller, SignOff, Stage

Signed = set[tuple[str, int, str]]
KINDS = ("blank", "propeller")


@dataclass(frozen=True, slots=True)
class InWork:
    """A thing in work and the first stage of it that nobody has signed.

    Whether a signature is void since is told on the thing's own page.
    """

    thing: Blank | Propeller
    stage: Stage | None


def in_work() -> list[InWork]:
    """List blanks and propellers in work with their next stage, propellers first."""
    propellers = Propeller.objects.with_related().filter(
        state__in=(Propeller.State.IN_WORK, Propeller.State.RETURNED)
    )
    blanks = Blank.objects.with_related().filter(
        state__in=(Blank.State.STACKING, Blank.State.GLUED)
    )
    things: list[Blank | Propeller] = [
        *propellers.order_by("serial", "pk"),
        *blanks.order_by("number", "pk"),
    ]
    stages = _stages({_route(thing) for thing in things})
    signed = _signed(things)
    return [
        InWork(thing, _next(thing, stages[_route(thing)], signed)) for thing in things
    ]


def _route(thing: Blank | Propeller) -> int:
    return thing.blank.route_id if isinstance(thing, Propeller) else thing.route_id


def _kind(thing: Blank | Propeller) -> str:
    return "propeller" if isinstance(thing, Propeller) else "blank"


def _stages(routes: set[int]) -> defaultdict[int, list[Stage]]:
    stages: defaultdict[int, list[Stage]] = defaultdict(list)
    for stage in Stage.objects.filter(revision__in=routes).order_by("order", "pk"):
        stages[stage.revision_id].append(stage)
    return stages


def _signed(things: list[Blank | Propeller]) -> Signed:
    signed: Signed = set()
    ids = {kind: [t.pk for t in things if _kind(t) == kind] for kind in KINDS}
    rows = SignOff.objects.filter(blank__in=ids["blank"]) | SignOff.objects.filter(
        propeller__in=ids["propeller"]
    )
    for code, blank, propeller in rows.values_list("stage__code", "blank", "propeller"):
        kind, pk = ("blank", blank) if blank else ("propeller", propeller)
        signed.add((kind, pk, code))
    return signed


def _next(
    thing: Blank | Propeller, stages: list[Stage], signed: Signed
) -> Stage | None:
    kind = _kind(thing)
    own = (stage for stage in stages if stage.scope == kind)
    return next((s for s in own if (kind, thing.pk, s.code) not in signed), None)
