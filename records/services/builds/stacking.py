"""Planning blanks and laying laminations, until glue makes the order final."""

from collections.abc import Sequence

from django.db.models import QuerySet

from records.models import Blank, Lamination, Revision, RouteRevision
from records.queries.builds.register import species_allowed, stack_of
from records.queries.gluing.mixes import joints_closed
from records.rules.builds import propellers as builds
from records.rules.builds import stacking
from records.rules.finding import Finding
from records.rules.holds import held
from records.services.ledger import Act, Entry
from records.services.numbers import next_number
from records.services.refusal import refuse, refuse_if_blocked

Order = Sequence[tuple[Lamination, bool]]
"""From the bottom up: a lamination, and whether it is turned end for end."""


def plan_blank(*, act: Act, revision: Revision, route: RouteRevision) -> Blank:
    """Plan a blank for a design revision, built by a route revision."""
    with Entry(act, "plan blank") as entry:
        refuse_if_blocked(builds.blank_may_be_planned(revision, route))
        number = next_number("blank", act.at)
        entry.subject = number
        return entry.add(Blank(number=number, revision=revision, route=route))


def lay_laminations(*, act: Act, blank: Blank, order: Order) -> Blank:
    """Lay a stack anew from the bottom up.

    Fewer laminations than the design has may be laid for now; what lay there before
    and is not in the order is free again.
    """
    with Entry(act, "lay laminations") as entry:
        blank = _blank(entry, blank)
        laid = {x.pk: x for x in _laminations().filter(pk__in=[x.pk for x, _ in order])}
        allowed = species_allowed(blank.revision)
        refuse_if_blocked(
            stacking.may_be_restacked(blank)
            + stacking.order_fits(blank, [x.number for x, _ in order])
            + [
                f
                for x in laid.values()
                for f in stacking.may_be_laid(x, blank, allowed)
            ]
        )
        places = {x.pk: (at, turned) for at, (x, turned) in enumerate(order, start=1)}
        before = stack_of(blank)
        staying = {x.pk for x in before if places.get(x.pk) == (x.position, x.turned)}
        for lamination in before:  # a place is freed before it is taken again
            if lamination.pk not in staying:
                entry.change(lamination, blank=None, position=None, turned=False)
        for pk, (at, turned) in places.items():
            if pk not in staying:
                entry.change(laid[pk], blank=blank, position=at, turned=turned)
        return blank


def lay_in_place(
    *, act: Act, blank: Blank, position: int, lamination: Lamination, turned: bool
) -> Lamination:
    """Lay one lamination in one place, such as after the one there was voided.

    What lies there now is free again, and is not changed once a joint beside it is
    closed. An empty place may be filled late: what lies there in truth is written.
    """
    with Entry(act, "lay lamination") as entry:
        blank = _blank(entry, blank)
        this_lamination = _laminations().get(pk=lamination.pk)
        closed = joints_closed(blank)
        here = [x for x in stack_of(blank) if x.position == position]
        open_ = (
            stacking.place_is_open(blank, position, closed)
            if here
            else stacking.place_can_be_filled(blank, position)
        )
        refuse_if_blocked(
            open_
            + _comes_from_glue(blank, this_lamination, closed)
            + stacking.may_be_laid(
                this_lamination, blank, species_allowed(blank.revision)
            )
        )
        for other in here:
            if other != this_lamination:
                entry.change(other, blank=None, position=None, turned=False)
        return entry.change(
            this_lamination, blank=blank, position=position, turned=turned
        )


def take_out_lamination(*, act: Act, lamination: Lamination) -> Lamination:
    """Take a lamination out of its blank, so that it is free again."""
    with Entry(act, "take out lamination") as entry:
        this_lamination = _laminations().get(pk=lamination.pk)
        if this_lamination.blank is None or this_lamination.position is None:
            raise refuse(f"{this_lamination} lies in no blank.")
        if this_lamination.state == Lamination.State.VOID:
            raise refuse(
                f"{this_lamination} is void: it keeps its place in the book, as a gap."
            )
        blank = _blank(entry, this_lamination.blank)
        refuse_if_blocked(
            stacking.place_is_open(
                blank, this_lamination.position, joints_closed(blank)
            )
        )
        return entry.change(this_lamination, blank=None, position=None, turned=False)


def begin_glue_up(*, act: Act, blank: Blank) -> Blank:
    """Fix the order of a stack: every lamination is laid, sound and not held."""
    with Entry(act, "begin glue-up") as entry:
        blank = _blank(entry, blank)
        allowed = species_allowed(blank.revision)
        refuse_if_blocked(
            stacking.may_be_restacked(blank)
            + stacking.stack_is_whole(blank, stack_of(blank), allowed)
            + held(blank)
        )
        return entry.change(blank, state=Blank.State.GLUING)


def _blank(entry: Entry, blank: Blank) -> Blank:
    entry.subject = blank.number
    return Blank.objects.select_related("revision__design").get(pk=blank.pk)


def _laminations() -> QuerySet[Lamination]:
    return Lamination.objects.select_related("board__lot__material", "blank__revision")


def _comes_from_glue(
    blank: Blank, lamination: Lamination, closed: set[int]
) -> list[Finding]:
    """Say why a lamination can't leave the place in this stack where it lies."""
    if lamination.blank_id != blank.pk or lamination.position is None:
        return []
    return stacking.place_is_open(blank, lamination.position, closed)
