"""What can never be false of routes, stages, readings asked for and limits."""

import datetime as dt

import pytest
from django.db import IntegrityError, transaction

from records.models import Limit, Stage
from tests import factories

pytestmark = pytest.mark.django_db


def refused(make, name):
    with pytest.raises(IntegrityError, match=name), transaction.atomic():
        make()


def test_a_stage_code_is_used_once_in_a_revision():
    stage = factories.StageFactory(code="hub")
    factories.StageFactory(code="hub")
    refused(
        lambda: factories.StageFactory(revision=stage.revision, code="hub"),
        "revision_id",
    )


def test_two_stages_never_share_a_place():
    stage = factories.StageFactory(order=3)
    refused(
        lambda: factories.StageFactory(revision=stage.revision, order=3), "revision_id"
    )


def test_what_is_measured_has_a_unit():
    refused(
        lambda: factories.CharacteristicFactory(unit=""),
        "measured_characteristic_has_a_unit",
    )
    assert factories.CharacteristicFactory(unit="", kind="yes_no")


@pytest.mark.parametrize(
    ("computed", "compares"), [("spread_of_points", ""), ("", "tip")]
)
def test_a_difference_names_what_it_compares(computed, compares):
    refused(
        lambda: factories.CharacteristicFactory(computed=computed, compares=compares),
        "difference_names_what_it_compares",
    )


def test_a_difference_is_known_as_such():
    spread = factories.CharacteristicFactory(
        computed="spread_of_blades", compares="tip"
    )
    assert spread.is_spread
    assert not factories.CharacteristicFactory().is_spread


@pytest.mark.parametrize(
    ("evidence", "wet"),
    [
        ("joints", True),
        ("press", True),
        ("coupon", False),
        ("stack", False),
        ("", False),
    ],
)
def test_glue_is_wet_from_the_first_joint_until_the_press_is_open(evidence, wet):
    assert Stage(evidence=evidence).glue_is_wet is wet


def test_a_limit_has_a_side_and_its_sides_are_in_order():
    refused(lambda: factories.LimitFactory(low=None, high=None), "limit_has_a_side")
    refused(lambda: factories.LimitFactory(low=3, high=2), "limit_sides_in_order")
    assert factories.LimitFactory(low=2, high=2)


def test_a_limit_revision_is_used_once_for_all_and_once_a_design():
    limit = factories.LimitFactory(number=1)
    design = factories.RevisionFactory()
    asked = limit.characteristic
    factories.LimitFactory(characteristic=asked, number=1, design_revision=design)
    refused(lambda: factories.LimitFactory(characteristic=asked), "characteristic_id")
    refused(
        lambda: factories.LimitFactory(characteristic=asked, design_revision=design),
        "characteristic_id",
    )


def test_limits_in_force_are_those_begun_the_newest_first():
    asked = factories.CharacteristicFactory()
    start = factories.NOON
    old = factories.LimitFactory(characteristic=asked, in_force_from=start)
    later = start + dt.timedelta(days=1)
    new = factories.LimitFactory(characteristic=asked, number=2, in_force_from=later)
    limits = Limit.objects.filter(characteristic=asked)
    assert list(limits.in_force(start)) == [old]
    assert list(limits.in_force(later)) == [new, old]
    assert not limits.in_force(start - dt.timedelta(seconds=1))
