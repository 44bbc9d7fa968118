"""Which laminations to turn end for end, so that their moments cancel best."""

from collections.abc import Sequence
from itertools import combinations, product
from math import fsum
from typing import Final

from records.engineering.validity import finite

# What is gained below this part of the whole is rounding, not balance.
NEGLIGIBLE: Final = 1e-9
_MOST_ROUNDS: Final = 200


def least_signed_sum(
    moments_g_mm: Sequence[float], most_exact: int
) -> tuple[bool, ...]:
    """Choose which moments to reverse for the least sum.

    Parameters
    ----------
    moments_g_mm : Sequence[float]
        Moment of each lamination as it lies [g.mm].
    most_exact : int
        Largest number for which every choice is tried [-].

    Returns
    -------
    tuple[bool, ...]
        For each, whether it is reversed [-].

    Raises
    ------
    ValueError
        If a moment is not finite.

    References
    ----------
    The partition problem. Above `most_exact`: largest first against the running
    sum, then single and double reversals while they help, at most 200 rounds.

    Examples
    --------
    >>> least_signed_sum([5, 4, 3, 2], 12)
    (False, True, True, False)
    """
    moments = [finite("moment", moment) for moment in moments_g_mm]
    if len(moments) <= most_exact:
        options = list(product((False, True), repeat=len(moments)))
    else:
        as_given = (False,) * len(moments)
        starts = (as_given, _largest_first(moments))
        options = [as_given, *(_improved(moments, start) for start in starts)]
    sums = {option: abs(signed_sum(moments, option)) for option in options}
    rounding = NEGLIGIBLE * fsum(map(abs, moments))
    least = min(sums.values()) + rounding
    good = (option for option, total in sums.items() if total <= least)
    return min(good, key=lambda option: (sum(option), option))


def signed_sum(moments_g_mm: Sequence[float], flips: Sequence[bool]) -> float:
    """Add moments, reversing some.

    Parameters
    ----------
    moments_g_mm : Sequence[float]
        Moment of each lamination as it lies [g.mm].
    flips : Sequence[bool]
        For each, whether it is reversed [-].

    Returns
    -------
    float
        Their sum [g.mm].

    References
    ----------
    Definition.

    Examples
    --------
    >>> signed_sum([5, 4, 3], [False, True, False])
    4.0
    """
    pairs = zip(moments_g_mm, flips, strict=True)
    return fsum(-moment if flip else moment for moment, flip in pairs)


def _largest_first(moments: Sequence[float]) -> tuple[bool, ...]:
    """Set each moment against the running sum, the largest first."""
    flips = [False] * len(moments)
    total = 0.0
    for index in sorted(range(len(moments)), key=lambda i: -abs(moments[i])):
        flips[index] = total * moments[index] > 0
        total += -moments[index] if flips[index] else moments[index]
    return tuple(flips)


def _improved(moments: Sequence[float], flips: Sequence[bool]) -> tuple[bool, ...]:
    """Reverse one or two at a time while the sum gets smaller."""
    current = list(flips)
    indices = range(len(moments))
    moves = [(i,) for i in indices] + list(combinations(indices, 2))
    for _ in range(_MOST_ROUNDS):
        laid = [-m if flip else m for m, flip in zip(moments, current, strict=True)]
        total = fsum(laid)
        left = [abs(total - 2 * sum(laid[i] for i in move)) for move in moves]
        if min(left) >= abs(total):
            break
        for index in moves[left.index(min(left))]:
            current[index] = not current[index]
    return tuple(current)
