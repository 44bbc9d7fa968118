"""In which order to stack laminations, so that their masses lie evenly."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import accumulate, chain, combinations, permutations
from math import fsum
from typing import Final

from records.engineering.layup_flips import NEGLIGIBLE
from records.engineering.validity import positive

_MOST_ROUNDS: Final = 100


def heights(thicknesses_mm: Sequence[float]) -> list[float]:
    """Return how high each lamination's centre lies above the mid-plane.

    Parameters
    ----------
    thicknesses_mm : Sequence[float]
        Thickness of each lamination from the bottom up [mm].

    Returns
    -------
    list[float]
        Height of each centre, negative below the mid-plane [mm].

    References
    ----------
    Definition.

    Examples
    --------
    >>> heights([20, 20, 10])
    [-15.0, 5.0, 20.0]
    """
    middle = fsum(thicknesses_mm) / 2
    tops = accumulate(thicknesses_mm)
    pairs = zip(tops, thicknesses_mm, strict=True)
    return [top - thickness / 2 - middle for top, thickness in pairs]


def least_stack_order(
    masses_g: Sequence[float], thicknesses_mm: Sequence[float], most_exact: int
) -> tuple[int, ...]:
    """Choose the order with the least moment about the mid-plane.

    Parameters
    ----------
    masses_g : Sequence[float]
        Mass of each lamination [g].
    thicknesses_mm : Sequence[float]
        Thickness of each lamination [mm].
    most_exact : int
        Largest number for which every order is accounted for [-].

    Returns
    -------
    tuple[int, ...]
        Index of each lamination from the bottom up [-].

    Raises
    ------
    ValueError
        If the lists differ in length or a number is not above zero.

    References
    ----------
    Up to `most_exact`, meeting in the middle: each split into a lower and an upper
    half, with every order of either, and the best pair by bisection. Above: swaps
    of two while they help, at most 100 rounds.

    Examples
    --------
    >>> least_stack_order([500, 520, 540], [20, 20, 20], 12)
    (0, 2, 1)
    """
    stack = _Stack(masses_g, thicknesses_mm)
    as_given = tuple(range(len(masses_g)))
    find = _met_in_the_middle if len(masses_g) <= most_exact else _swapped
    best = find(stack)
    gain = abs(stack.moment(as_given)) - abs(stack.moment(best))
    return best if gain > NEGLIGIBLE * stack.scale else as_given


class _Stack:
    """Laminations to be put in order."""

    def __init__(
        self, masses_g: Sequence[float], thicknesses_mm: Sequence[float]
    ) -> None:
        if len(masses_g) != len(thicknesses_mm):
            raise ValueError(
                f"{len(masses_g)} masses but {len(thicknesses_mm)} thicknesses: "
                "give one of each for each lamination"
            )
        self.masses = [positive("mass", mass, "g") for mass in masses_g]
        self.thicknesses = [positive("thickness", t, "mm") for t in thicknesses_mm]
        self.middle = fsum(self.thicknesses) / 2
        self.scale = fsum(self.masses) * self.middle

    def moment(self, order: Sequence[int]) -> float:
        """Return the moment about the mid-plane [g.mm]."""
        levels = heights([self.thicknesses[i] for i in order])
        return fsum(self.masses[i] * z for i, z in zip(order, levels, strict=True))

    def part_moments(self, size: int) -> dict[int, list[float]]:
        """Return, for each choice of `size` at the bottom, its moments [g.mm].

        A choice is an integer with a bit set for each lamination in it; it has one
        moment for each order of its laminations.
        """
        moments = {0: [0.0]}
        for _ in range(size):
            grown: dict[int, list[float]] = {}
            for chosen, totals in moments.items():
                top = fsum(self.thicknesses[i] for i in self.members(chosen))
                for index in self.members(~chosen):
                    height = top + self.thicknesses[index] / 2 - self.middle
                    added = self.masses[index] * height
                    grown.setdefault(chosen | 1 << index, []).extend(
                        [total + added for total in totals]
                    )
            moments = grown
        return moments

    def members(self, chosen: int) -> list[int]:
        """Return the laminations whose bits are set."""
        return [i for i in range(len(self.masses)) if chosen >> i & 1]

    def order_of(self, chosen: int, moment_g_mm: float) -> tuple[int, ...]:
        """Return the order of a lower part that has a moment."""
        return min(
            permutations(self.members(chosen)),
            key=lambda order: abs(self.part_moment(order) - moment_g_mm),
        )

    def part_moment(self, order: Sequence[int]) -> float:
        """Return the moment of a lower part of the stack alone [g.mm]."""
        total, top = 0.0, -self.middle
        for index in order:
            total += self.masses[index] * (top + self.thicknesses[index] / 2)
            top += self.thicknesses[index]
        return total


def _met_in_the_middle(stack: _Stack) -> tuple[int, ...]:
    """Find the best of all orders.

    The upper part, read from the top down, is a lower part of the stack turned
    over, with the opposite moment.
    """
    count = len(stack.masses)
    lower = stack.part_moments(count // 2)
    upper = lower if count % 2 == 0 else stack.part_moments(count - count // 2)
    everything = (1 << count) - 1
    _, chosen, below, above = min(
        (abs(below - above), chosen, below, above)
        for chosen, totals in lower.items()
        for below, above in [_nearest(totals, upper[everything ^ chosen])]
    )
    top_down = stack.order_of(everything ^ chosen, above)
    return stack.order_of(chosen, below) + top_down[::-1]


def _nearest(left: Sequence[float], right: Sequence[float]) -> tuple[float, float]:
    """Return the pair, one from each list, with the least difference."""
    ranked = sorted(right)
    pairs = (
        (value, ranked[near])
        for value in left
        for at in [bisect_left(ranked, value)]
        for near in (at - 1, at)
        if 0 <= near < len(ranked)
    )
    return min(pairs, key=lambda pair: abs(pair[0] - pair[1]))


def _swapped(stack: _Stack) -> tuple[int, ...]:
    """Swap two laminations at a time while the moment gets smaller."""
    order = tuple(range(len(stack.masses)))
    for _ in range(_MOST_ROUNDS):
        choices = chain([order], _swaps(order))
        best = min(choices, key=lambda choice: abs(stack.moment(choice)))
        if best == order:
            break
        order = best
    return order


def _swaps(order: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    for low, high in combinations(range(len(order)), 2):
        swapped = list(order)
        swapped[low], swapped[high] = order[high], order[low]
        yield tuple(swapped)
