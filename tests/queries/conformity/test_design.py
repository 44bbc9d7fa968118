"""A design revision as plain facts, digit for digit."""

import pytest

from records.queries.conformity.design import design_facts, mounting_facts
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def revision(shop):
    revision = factories.RevisionFactory(design__model="TA-9")
    return type(revision).objects.select_related("design").get(pk=revision.pk)


def test_identity_and_stations_are_told(revision, django_assert_num_queries):
    with django_assert_num_queries(1):
        facts = design_facts(revision)
    assert facts["model"] == "TA-9"
    assert facts["diameter_mm"] == "1720"
    assert facts["basis"] == "experimental"
    assert [s["radius_mm"] for s in facts["stations"]] == ["258", "430", "645", "774"]
    assert facts["stations"][0]["angle_deg"] == "36.51"


def test_the_torque_card_is_told(revision):
    facts = mounting_facts(revision)
    assert (facts["torque_low_nm"], facts["torque_high_nm"]) == ("24", "27")
    assert facts["bolt_circle_mm"] == "120.65"
    assert facts["threads_dry"] is True
