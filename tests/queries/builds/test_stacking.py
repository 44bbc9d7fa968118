import pytest

from records.queries.builds.stacking import proposed
from tests import factories

pytestmark = pytest.mark.django_db


def stack(*weighed, turned=()):
    blank = factories.BlankFactory(revision__laminations=len(weighed))
    return [
        factories.LaminationFactory(
            blank=blank,
            position=place,
            mass_g=mass,
            balance_point_mm=point,
            turned=place in turned,
        )
        for place, (mass, point) in enumerate(weighed, start=1)
    ]


def test_turns_are_proposed_that_bring_the_blades_into_balance():
    # 800 g at +4 mm and 820 g at +4 mm: turning one leaves 80 g.mm (by hand).
    result = proposed(stack((800, 4), (820, 4)), 19)
    assert result.along_now == pytest.approx(6480)
    assert abs(result.along_then) == pytest.approx(80)
    assert sum(turned for _, turned in result.order) == 1
    assert not result.changes_nothing


def test_a_lamination_that_lies_turned_counts_the_other_way():
    laid = stack((800, 4), (820, 4), turned=(2,))
    result = proposed(laid, 19)
    assert result.along_now == pytest.approx(-80)
    assert result.changes_nothing


def test_heavy_ones_are_spread_through_the_stack():
    # Heights -30, -10, 10, 30 mm: two of 900 g below two of 700 g, by hand.
    result = proposed(stack((900, 0), (900, 0), (700, 0), (700, 0)), 20)
    assert result.through_now == pytest.approx(40 * (700 - 900))
    assert result.through_then == pytest.approx(0)
    assert [x.mass_g for x, _ in result.order] in (
        [900, 700, 700, 900],
        [700, 900, 900, 700],
    )


@pytest.mark.parametrize("weighed", [(None, 4), (800, None), (0, 4)])
def test_what_is_not_weighed_is_named(weighed):
    laid = stack((800, 4), weighed)
    result = proposed(laid, 19)
    assert laid[1].number in result.why_not
    assert result.order == ()


def test_an_empty_stack_has_no_proposal():
    assert proposed([], 19).order == ()


def test_a_stack_beyond_the_model_says_why():
    result = proposed(stack(*[(800, 1)] * 41), 19)
    assert "outside 1 to 40" in result.why_not
