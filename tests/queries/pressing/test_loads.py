import datetime as dt

import pytest

from records.models import Blank
from records.queries.pressing import loads as pressing
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


def loaded(blank, **kwargs):
    return factories.LoadedBlankFactory(blank=blank, **kwargs).load


def test_presses_in_use_come_first_with_their_loads_counted():
    out = factories.PressFactory(in_use=False, name="A")
    used = factories.PressFactory(name="B")
    factories.PressLoadFactory.create_batch(2, press=used)
    assert [(p, p.closed) for p in pressing.presses_listed()] == [(used, 2), (out, 0)]


def test_loads_are_listed_newest_first_in_one_query(django_assert_num_queries):
    old = factories.PressLoadFactory()
    new = factories.PressLoadFactory(on_at=old.on_at + dt.timedelta(days=1))
    factories.LoadedBlankFactory.create_batch(2, load=new)
    with django_assert_num_queries(1):
        result = list(pressing.loads_listed())
        assert [load.press.name for load in result]
    assert [(x, x.blanks, x.samples_taken) for x in result] == [
        (new, 2, 0),
        (old, 0, 0),
    ]


def test_blanks_with_glue_and_glued_ones_can_be_pressed():
    glued = factories.BlankFactory(state=Blank.State.GLUED)
    wet = factories.BlankFactory(state=Blank.State.GLUING)
    factories.BlankFactory()
    assert set(pressing.blanks_to_press()) == {glued, wet}


def test_which_load_a_press_and_a_blank_are_still_in():
    blank = factories.BlankFactory()
    load = loaded(blank)
    loaded(factories.BlankFactory(), load__off_at=NOON + dt.timedelta(days=1))
    assert pressing.open_load_of(load.press) == load
    assert pressing.loads_under_pressure_with([blank]) == {blank.pk: load}
    assert pressing.open_load_of(factories.PressFactory()) is None


def test_what_glue_and_wood_is_in_blanks(django_assert_num_queries):
    first, second = factories.MixFactory(), factories.MixFactory()
    blanks = [factories.glued_blank(3, mix=first), factories.glued_blank(3, mix=second)]
    keys = [blank.pk for blank in blanks]
    with django_assert_num_queries(3):
        assert pressing.sheets_in(keys) == [first.sheet, second.sheet]
        assert len(pressing.woods_in(keys)) == 2
        joints = pressing.joints_in(keys)
        assert [joint.mix.sheet for joint in joints] == [first.sheet] * 2 + [
            second.sheet
        ] * 2


def test_blanks_of_a_load_come_with_their_design(django_assert_num_queries):
    load = factories.PressLoadFactory()
    factories.LoadedBlankFactory.create_batch(3, load=load)
    with django_assert_num_queries(1):
        assert [row.blank.revision.design.model for row in pressing.blanks_in(load)]


def test_the_newest_sample_of_a_press_and_what_was_corrected():
    load = factories.PressLoadFactory()
    old = factories.PressSampleFactory(load=load)
    new = factories.PressSampleFactory(
        load=load, corrects=old, reason="Misread", entered="181"
    )
    factories.PressSampleFactory()
    assert pressing.last_sample_at(load.press) == new
    assert pressing.corrected_samples(load) == [old]
    assert pressing.samples_of(load) == [new]
