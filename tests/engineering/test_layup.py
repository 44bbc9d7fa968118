"""Order and turns of weighed laminations for the least predicted unbalance."""

import math
from itertools import permutations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from records.engineering.layup import (
    Lamination,
    Place,
    StackMoments,
    least_unbalance,
    stack_moments,
)

LAMINATIONS = st.builds(
    Lamination, st.floats(300, 1200), st.floats(-15, 15), st.floats(10, 30)
)
# Laminations of an invented stack, by the model in the module's head.
STACK = [
    Lamination(812, 4.0, 19),
    Lamination(790, -1.5, 19),
    Lamination(845, 3.0, 20),
    Lamination(803, 2.5, 19),
    Lamination(771, 5.5, 18),
]


def laid_as(result, laminations):
    """Lay the stack as proposed."""
    stack = []
    for place in result.places:
        lam = laminations[place.lamination - 1]
        point = -lam.balance_point_mm if place.turned else lam.balance_point_mm
        stack.append(Lamination(lam.mass_g, point, lam.thickness_mm))
    return stack


def turned(lamination, flip):
    sign = -1 if flip else 1
    return Lamination(
        lamination.mass_g, sign * lamination.balance_point_mm, lamination.thickness_mm
    )


def test_moments_by_hand():
    # 800 * 4 - 820 * 3 = 740; heights -9.5 and 9.5: (820 - 800) * 9.5 = 190.
    result = stack_moments([Lamination(800, 4, 19), Lamination(820, -3, 19)])
    assert result.along_g_mm == pytest.approx(740)
    assert result.through_g_mm == pytest.approx(190)


def test_five_laminations_against_all_3840_arrangements():
    result = least_unbalance(STACK)
    arrangements = [
        stack_moments([turned(STACK[i], f) for i, f in zip(order, flips, strict=True)])
        for order in permutations(range(5))
        for flips in product((False, True), repeat=5)
    ]
    along = min(abs(m.along_g_mm) for m in arrangements)
    through = min(abs(m.through_g_mm) for m in arrangements)
    assert abs(result.after.along_g_mm) == pytest.approx(along, abs=1e-6)
    assert abs(result.after.through_g_mm) == pytest.approx(through, abs=1e-6)
    assert result.exact


@settings(max_examples=30)
@given(st.lists(LAMINATIONS, min_size=1, max_size=9))
def test_never_worse_than_the_stack_as_given(laminations):
    result = least_unbalance(laminations)
    assert result.before == stack_moments(laminations)
    assert abs(result.after.along_g_mm) <= abs(result.before.along_g_mm) + 1e-3
    assert abs(result.after.through_g_mm) <= abs(result.before.through_g_mm) + 1e-3


@settings(max_examples=30)
@given(st.lists(LAMINATIONS, min_size=1, max_size=9))
def test_the_moments_reported_are_those_of_the_proposal(laminations):
    result = least_unbalance(laminations)
    assert sorted(p.lamination for p in result.places) == list(
        range(1, len(laminations) + 1)
    )
    after = stack_moments(laid_as(result, laminations))
    assert after.along_g_mm == pytest.approx(result.after.along_g_mm, abs=1e-9)
    assert after.through_g_mm == pytest.approx(result.after.through_g_mm, abs=1e-9)


@settings(max_examples=20)
@given(st.lists(LAMINATIONS, min_size=2, max_size=7))
def test_the_order_given_does_not_change_how_good_the_best_is(laminations):
    one, other = least_unbalance(laminations), least_unbalance(laminations[::-1])
    for part in ("along_g_mm", "through_g_mm"):
        best, again = abs(getattr(one.after, part)), abs(getattr(other.after, part))
        assert again == pytest.approx(best, abs=1e-3)


@settings(max_examples=20)
@given(st.lists(LAMINATIONS, min_size=1, max_size=7), st.data())
def test_turning_the_stack_given_does_not_change_how_good_the_best_is(stack, data):
    flips = data.draw(st.lists(st.booleans(), min_size=len(stack), max_size=len(stack)))
    mixed = [turned(lam, flip) for lam, flip in zip(stack, flips, strict=True)]
    best = abs(least_unbalance(stack).after.along_g_mm)
    assert abs(least_unbalance(mixed).after.along_g_mm) == pytest.approx(best, abs=1e-3)


def test_a_balanced_stack_is_left_alone():
    stack = [Lamination(800, 3, 19), Lamination(900, 0, 19), Lamination(800, -3, 19)]
    result = least_unbalance(stack)
    assert result.places == (Place(1, False), Place(2, False), Place(3, False))
    assert result.after == result.before == StackMoments(0, 0)


def test_without_thickness_the_order_stays():
    stack = [Lamination(lam.mass_g, lam.balance_point_mm) for lam in STACK]
    result = least_unbalance(stack)
    assert [place.lamination for place in result.places] == [1, 2, 3, 4, 5]
    assert result.before.through_g_mm is result.after.through_g_mm is None
    with_thickness = least_unbalance(STACK).after.along_g_mm
    assert result.after.along_g_mm == pytest.approx(with_thickness)


def test_one_lamination_stays_as_it_is():
    result = least_unbalance([Lamination(800, 4, 19)])
    assert result.places == (Place(1, False),)
    assert result.after == result.before == StackMoments(3200, 0)


def many(count):
    return [
        Lamination(750 + 37 * i % 101, 17 * i % 23 - 8, 19 + i % 3)
        for i in range(count)
    ]


def test_twelve_laminations_are_exact_and_thirteen_are_searched():
    assert least_unbalance(many(12)).exact
    result = least_unbalance(many(13))
    assert not result.exact
    assert abs(result.after.along_g_mm) <= abs(result.before.along_g_mm)
    assert abs(result.after.through_g_mm) <= abs(result.before.through_g_mm)
    assert result == least_unbalance(many(13))


def test_edges_of_the_number_of_laminations():
    assert len(least_unbalance(many(40)).places) == 40
    with pytest.raises(ValueError, match="laminations 41 is outside 1 to 40"):
        least_unbalance(many(41))
    with pytest.raises(ValueError, match="laminations: 0 given, at least 1 needed"):
        least_unbalance([])


@pytest.mark.parametrize(
    ("lamination", "sentence"),
    [
        (Lamination(0, 4, 19), "mass of a lamination 0 g must be above 0 g"),
        (Lamination(800, math.nan, 19), "balance point nan is not a finite number"),
        (Lamination(800, 4, 0), "thickness of a lamination 0 mm must be above 0 mm"),
        (Lamination(800, 4), "1 of 2 laminations have a thickness: enter it for all"),
        (Lamination(math.inf, 4, 19), "mass of a lamination inf is not a finite"),
    ],
)
@pytest.mark.parametrize("function", [stack_moments, least_unbalance])
def test_what_is_not_a_weighed_lamination_is_refused(function, lamination, sentence):
    with pytest.raises(ValueError, match=sentence):
        function([Lamination(800, 4, 19), lamination])
