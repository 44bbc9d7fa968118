"""What a decision needs by its kind, asked before anything is written."""

import pytest

from records.models import Disposition
from records.queries.deviations.register import subjects_of
from records.rules.deviations.dispositions import (
    may_be_returned,
    may_be_scrapped,
    nothing_was_decided,
    stages_are_named,
    words_are_given,
)
from tests import factories

pytestmark = pytest.mark.django_db


def subjects(**thing):
    row = factories.DeviationSubjectFactory(**thing)
    return list(subjects_of(row.deviation))


@pytest.mark.parametrize(
    ("kind", "fields"),
    [
        ("use_as_is", ["reason", "design_authority", "plain_words"]),
        ("repair", ["reason", "design_authority", "plain_words"]),
        ("rework", ["reason"]),
        ("scrap", ["reason"]),
        ("return", ["reason"]),
    ],
)
def test_words_by_kind(kind, fields):
    assert [f.field for f in words_are_given(kind, "", " ", "")] == fields
    assert kind in Disposition.Kind.values


def test_stages_of_a_thing_without_a_route_are_not_compared():
    stage = factories.StageFactory()
    assert stages_are_named("rework", [stage], subjects()) == []


def test_stage_has_to_be_of_the_route_of_the_blank_or_propeller():
    propeller = factories.PropellerFactory()
    stage = factories.StageFactory(revision=propeller.blank.route)
    for thing in ({"propeller": propeller}, {"blank": propeller.blank}):
        assert stages_are_named("rework", [stage], subjects(**thing)) == []
        stranger = factories.StageFactory()
        assert len(stages_are_named("rework", [stranger], subjects(**thing))) == 1


def test_nothing_left_to_decide():
    assert nothing_was_decided(subjects()) == []
    assert len(nothing_was_decided([])) == 1


def test_scrap_asks_for_the_photo_and_each_thing(django_assert_num_queries):
    things = subjects(propeller=factories.PropellerFactory(state="scrapped"))
    assert [f.field for f in may_be_scrapped(things, proven=False)] == [
        "subjects",
        "photo",
    ]


def test_unused_mix_may_be_thrown_away():
    mix = factories.MixFactory()
    assert may_be_scrapped(subjects(mix=mix), proven=True) == []
    factories.JointSpreadFactory(mix=mix)
    assert len(may_be_scrapped(subjects(mix=mix), proven=True)) == 1


def test_lot_refused_before_may_still_be_scrapped():
    lot = factories.LotFactory(state="refused")
    assert may_be_scrapped(subjects(lot=lot), proven=True) == []


def test_lot_and_board_may_go_back():
    assert may_be_returned(subjects(lot=factories.LotFactory())) == []
    assert may_be_returned(subjects()) == []
    assert len(may_be_returned(subjects(gauge=factories.GaugeFactory()))) == 1
