from decimal import Decimal

import pytest

from records.models import Blank
from records.queries.builds.register import species_allowed, stack_of
from records.rules.builds import stacking
from tests import factories

pytestmark = pytest.mark.django_db


def weighed(*masses):
    blank = factories.BlankFactory(revision__laminations=len(masses))
    return [
        factories.LaminationFactory(blank=blank, position=place, mass_g=mass)
        for place, mass in enumerate(masses, start=1)
    ]


def whole(blank):
    return stacking.stack_is_whole(
        blank, stack_of(blank), species_allowed(blank.revision)
    )


def test_a_whole_sound_stack_has_nothing_against_it():
    assert whole(factories.stacked_blank(4)) == []


def test_every_empty_place_is_named():
    blank = factories.stacked_blank(4)
    laid = [x for x in stack_of(blank) if x.position not in {2, 4}]
    [finding] = stacking.stack_is_whole(blank, laid, species_allowed(blank.revision))
    assert "place 2, 4" in finding.sentence


def test_a_design_that_allows_no_species_says_so():
    blank = factories.stacked_blank(2)
    findings = stacking.stack_is_whole(blank, stack_of(blank), {})
    assert all("allows: none" in f.sentence for f in findings)
    assert len(findings) == 2


def test_no_place_is_open_once_pressed():
    blank = factories.stacked_blank(4, state=Blank.State.PRESSED)
    [finding] = stacking.place_is_open(blank, 1, [])
    assert "in the press" in finding.sentence


def test_both_joints_beside_a_place_fix_it():
    blank = factories.stacked_blank(4, state=Blank.State.GLUING)
    findings = stacking.place_is_open(blank, 2, [1, 2, 3])
    assert [f.sentence[:7] for f in findings] == ["Joint 1", "Joint 2"]


@pytest.mark.parametrize(
    ("masses", "pairs"),
    [
        ((3000, 3000, 3090), 0),  # exactly 3 %
        ((3000, 3000, 3091), 1),
        ((3000, 2000, 3200, 3000), 1),
        ((3000, 2000, 3200, 3100), 2),
        ((3000, None, 3200, 3000), 0),
        ((3000, 9000, 3000), 0),  # the middle one has no partner
    ],
)
def test_the_two_of_a_pair_weigh_alike(masses, pairs):
    # 2 to 3 % between the masses of a pair: common practice, no source.
    findings = stacking.pairs_weigh_alike(weighed(*masses))
    assert len(findings) == pairs
    assert not any(f.blocks for f in findings)


def test_a_pair_that_differs_is_named_with_its_masses():
    laid = weighed(Decimal("3000.0"), Decimal("3200.0"))
    [finding] = stacking.pairs_weigh_alike(laid)
    assert laid[0].number in finding.sentence
    assert "3200\xa0g" in finding.sentence
