"""The order and turns proposed for a stack, from weighed laminations."""

from collections.abc import Sequence
from dataclasses import dataclass

from records.engineering import layup
from records.models import Lamination


@dataclass(frozen=True, slots=True)
class Proposal:
    """A stack as it lies, and the better one proposed, from the bottom up.

    Moments in g·mm: along the blades positive when blade 1 is heavy, through the
    stack positive when the upper side is. `why_not` says why nothing is proposed.
    """

    order: tuple[tuple[Lamination, bool], ...] = ()
    along_now: float | None = None
    along_then: float | None = None
    through_now: float | None = None
    through_then: float | None = None
    why_not: str = ""

    @property
    def changes_nothing(self) -> bool:
        """Tell whether the stack lies as proposed already."""
        return all(
            lamination.position == place and lamination.turned == turned
            for place, (lamination, turned) in enumerate(self.order, start=1)
        )


def proposed(stack: Sequence[Lamination], thickness_mm: float) -> Proposal:
    """Propose order and turns of a stack of equally thick laminations: no query.

    As each was weighed: its balance point counts towards its marked end, which lies
    on blade 1 unless the lamination is turned.
    """
    unweighed = [x.number for x in stack if not x.mass_g or x.balance_point_mm is None]
    if not stack or unweighed:
        names = ", ".join(unweighed)
        why = f"Weigh {names} and find the balance points." if stack else ""
        return Proposal(why_not=why)
    try:
        proposal = layup.least_unbalance([_weighed(x, thickness_mm) for x in stack])
    except ValueError as error:
        return Proposal(why_not=f"No order can be proposed: {error}.")
    order = tuple(
        (stack[p.lamination - 1], stack[p.lamination - 1].turned != p.turned)
        for p in proposal.places
    )
    return Proposal(
        order=order,
        along_now=proposal.before.along_g_mm,
        along_then=proposal.after.along_g_mm,
        through_now=proposal.before.through_g_mm,
        through_then=proposal.after.through_g_mm,
    )


def _weighed(lamination: Lamination, thickness_mm: float) -> layup.Lamination:
    point = float(lamination.balance_point_mm or 0)
    return layup.Lamination(
        mass_g=float(lamination.mass_g or 0),
        balance_point_mm=-point if lamination.turned else point,
        thickness_mm=thickness_mm,
    )
