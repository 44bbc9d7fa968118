"""A travel card asks for every reading of its stages, with limit, unit and tag."""

import pytest

from records.documents.builds.travel_card import card_facts, draw_travel_card
from records.services.tags import tag_for
from tests import finished
from tests.documents import reading

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made


@pytest.fixture(scope="module")
def cards(built, django_db_blocker):
    """Both cards, drawn once: of the blank and of the propeller."""
    with django_db_blocker.unblock():
        things = {"propeller": built.propeller, "blank": built.propeller.blank}
        return {
            kind: draw_travel_card(
                thing, tag_for(act=built.act, thing=thing), built.act.at
            )
            for kind, thing in things.items()
        }


def test_every_stage_and_reading_of_its_scope_is_on_the_card(cards, made):
    route = made.propeller.blank.route
    for kind, pdf in cards.items():
        words = reading.text(pdf)
        for stage in route.stages.filter(scope=kind):
            assert stage.name in words
            for characteristic in stage.characteristics.all():
                assert characteristic.name in words, characteristic


def test_limits_and_units_stand_beside_the_boxes(cards):
    words = reading.text(cards["propeller"])
    assert "Track at most 1.5 mm (0.059 in)" in words
    assert "36.01 to 37.01°" in words
    assert "blade 1 blade 2" in words
    assert "g·mm" in words


def test_the_glue_up_has_a_line_for_each_joint_and_lamination(cards):
    words = reading.text(cards["blank"])
    assert "Joints, first glue to closed" in words
    assert "Joint Mix First glue Closed Both faces Glue, g 1 2 3 " in words
    assert "Lamination Mass, g Turned End mark 1 2 3 4" in words


def test_cautions_and_hold_points_are_printed(cards):
    words = reading.text(cards["propeller"])
    assert "Caution. Dust taken off, breathing mask on" in words
    assert words.count("HOLD POINT") == 7


def test_the_tag_on_the_card_is_read(cards):
    (link,) = reading.tags(reading.pages(cards["propeller"])[0])
    assert link.endswith("/2026-001")


def test_the_page_says_what_the_card_will_hold(made):
    assert card_facts(made.propeller)[0] == ("Stages", "9")
