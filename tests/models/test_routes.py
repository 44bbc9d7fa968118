"""What can never be false of routes, stages and the readings they ask for."""

import pytest
from django.db import IntegrityError, transaction

from records.models import Stage
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
    ("computed", "compares"), [("range_of_points", ""), ("", "tip")]
)
def test_a_difference_names_what_it_compares(computed, compares):
    refused(
        lambda: factories.CharacteristicFactory(computed=computed, compares=compares),
        "difference_names_what_it_compares",
    )


def test_a_difference_is_known_as_such():
    spread = factories.CharacteristicFactory(computed="range_of_blades", compares="tip")
    assert spread.is_range
    assert not factories.CharacteristicFactory().is_range


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
