"""What a propeller is made of, as facts."""

import pytest

from records.queries.conformity.build import construction_facts
from records.queries.provenance.loading import provenance_of
from tests import finished

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made


def test_laminations_joints_and_loads_are_told(made):
    facts = construction_facts(provenance_of(made.propeller))
    assert [x["place"] for x in facts["laminations"]] == [1, 2, 3, 4]
    assert {x["species"] for x in facts["laminations"]} == {"Yellow birch"}
    assert facts["laminations"][0]["thickness_mm"] == "27.5"
    assert [mix["joints"] for mix in facts["glue"]] == [[1, 2], [3]]
    assert len(facts["glue"][0]["lots"]) == 2
    assert facts["pressed"][0]["off_at"] == "2026-03-03T08:00:00Z"


def test_a_build_without_a_blank_is_made_of_nothing(made):
    lot = made.propeller.blank.laminations.first().board.lot
    facts = construction_facts(provenance_of(lot))
    assert facts == {"laminations": [], "glue": [], "pressed": [], "put_on_later": []}
