"""Order and turn weighed laminations so that the stack is nearest to balance.

The model, and all of it, for one straight stack that makes two blades:

- Turning a lamination end for end carries its centre of mass to the other side of
  the middle. The moment along the blades is the sum of plus or minus m x, with m
  the mass and x the distance of the balance point from the middle. The order does
  not matter to it.
- A lamination's centre of mass lies half-way through its own thickness. The moment
  through the stack is the sum of m z, with z that height above the stack's
  mid-plane. Turning does not matter to it.

So each is made least by itself. It is the blank that is predicted: carving takes
wood off unevenly, and what is left through a stack that lies along the shaft does
not show on a balancing stand. Compare with the measured unbalance.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum
from typing import Final

from records.engineering.layup_flips import least_signed_sum
from records.engineering.layup_order import heights, least_stack_order
from records.engineering.validity import at_least, finite, positive, within

MOST_EXACT: Final = 12
MOST_LAMINATIONS: Final = 40


@dataclass(frozen=True, slots=True)
class Lamination:
    """A lamination as weighed, lying as it is now.

    Attributes
    ----------
    mass_g : float
        Mass [g].
    balance_point_mm : float
        Distance of its balance point from the middle of its length, positive
        towards the end that lies on blade 1 [mm].
    thickness_mm : float or None
        Thickness; None leaves the order as it is [mm].
    """

    mass_g: float
    balance_point_mm: float
    thickness_mm: float | None = None


@dataclass(frozen=True, slots=True)
class StackMoments:
    """Predicted moments of a stack.

    Attributes
    ----------
    along_g_mm : float
        Moment along the blades, positive when blade 1 is heavy [g.mm].
    through_g_mm : float or None
        Moment through the stack, positive when the upper side is heavy; None
        without thicknesses [g.mm].
    """

    along_g_mm: float
    through_g_mm: float | None


@dataclass(frozen=True, slots=True)
class Place:
    """What lies at one place of the stack.

    Attributes
    ----------
    lamination : int
        Number of the lamination in the order given, from 1 [-].
    turned : bool
        Whether it is turned end for end from how it was given [-].
    """

    lamination: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Layup:
    """The arrangement proposed.

    Attributes
    ----------
    places : tuple[Place, ...]
        The stack from the bottom up [-].
    before : StackMoments
        Moments of the stack as given [g.mm].
    after : StackMoments
        Moments as proposed, neither larger than before [g.mm].
    exact : bool
        Whether no arrangement at all is better [-].
    """

    places: tuple[Place, ...]
    before: StackMoments
    after: StackMoments
    exact: bool


def stack_moments(laminations: Sequence[Lamination]) -> StackMoments:
    """Return the predicted moments of a stack as it lies.

    Parameters
    ----------
    laminations : Sequence[Lamination]
        The stack from the bottom up, 1 to 40 laminations [g, mm, mm].

    Returns
    -------
    StackMoments
        Moments along the blades and through the stack [g.mm].

    Raises
    ------
    ValueError
        If there is no lamination or more than 40, a mass or thickness is not above
        zero, a balance point is not finite, or only some have a thickness.

    References
    ----------
    Centre of mass of a system of bodies: sum of m x and sum of m z.

    Examples
    --------
    >>> stack_moments([Lamination(800, 4), Lamination(820, -3)]).along_g_mm
    740.0
    """
    _check(laminations)
    along = fsum(lam.mass_g * lam.balance_point_mm for lam in laminations)
    thicknesses = _thicknesses(laminations)
    if thicknesses is None:
        return StackMoments(along, None)
    pairs = zip(laminations, heights(thicknesses), strict=True)
    return StackMoments(along, fsum(lam.mass_g * height for lam, height in pairs))


def least_unbalance(laminations: Sequence[Lamination]) -> Layup:
    """Propose the order and the turns that make both moments least.

    Up to 12 laminations the proposal is exact: none is better by more than one
    part in a thousand million. Above, a bounded search improves on the stack as
    given; the same input always has the same answer. Of equally good turns the
    one that turns fewest is proposed, and an order is left alone that another
    would not better.

    Parameters
    ----------
    laminations : Sequence[Lamination]
        The stack as given from the bottom up, 1 to 40 laminations [g, mm, mm].

    Returns
    -------
    Layup
        Places from the bottom up [-] with moments before and after [g.mm].

    Raises
    ------
    ValueError
        If there is no lamination or more than 40, a mass or thickness is not above
        zero, a balance point is not finite, or only some have a thickness.

    References
    ----------
    The model is in the head of this module. Least signed sum is the partition
    problem of combinatorics; up to 12 laminations all 4096 choices are tried.

    Examples
    --------
    One lamination is turned, so that 3200 g.mm meets 3280:

    >>> found = least_unbalance([Lamination(800, 4), Lamination(820, 4)])
    >>> [place.turned for place in found.places]
    [False, True]
    >>> found.before.along_g_mm, found.after.along_g_mm
    (6480.0, -80.0)
    """
    before = stack_moments(laminations)
    flips = least_signed_sum(
        [lam.mass_g * lam.balance_point_mm for lam in laminations], MOST_EXACT
    )
    thicknesses = _thicknesses(laminations)
    order = tuple(range(len(laminations)))
    if thicknesses is not None:
        masses = [lam.mass_g for lam in laminations]
        order = least_stack_order(masses, thicknesses, MOST_EXACT)
    return Layup(
        places=tuple(Place(index + 1, flips[index]) for index in order),
        before=before,
        after=stack_moments([_laid(laminations[i], turned=flips[i]) for i in order]),
        exact=len(laminations) <= MOST_EXACT,
    )


def _laid(lamination: Lamination, *, turned: bool) -> Lamination:
    point = lamination.balance_point_mm
    return Lamination(
        lamination.mass_g, -point if turned else point, lamination.thickness_mm
    )


def _thicknesses(laminations: Sequence[Lamination]) -> list[float] | None:
    known = [lam.thickness_mm for lam in laminations if lam.thickness_mm is not None]
    return known or None


def _check(laminations: Sequence[Lamination]) -> None:
    at_least("laminations", laminations, 1)
    within("number of laminations", len(laminations), 1, MOST_LAMINATIONS, "-")
    for lamination in laminations:
        positive("mass of a lamination", lamination.mass_g, "g")
        finite("balance point", lamination.balance_point_mm)
    thicknesses = _thicknesses(laminations) or []
    if len(thicknesses) not in {0, len(laminations)}:
        raise ValueError(
            f"{len(thicknesses)} of {len(laminations)} laminations have a thickness: "
            "enter it for all or for none"
        )
    for thickness in thicknesses:
        positive("thickness of a lamination", thickness, "mm")
