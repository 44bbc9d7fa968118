"""Rows of a chain are dealt to the stage and the thing they belong to."""

import datetime as dt

import pytest

from records.models import StageEvent
from records.queries.builds.stage_rows import Rows
from records.queries.provenance.loading import provenance_of
from records.queries.routes.revisions import stages_with_characteristics
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def blank(db):
    return factories.glued_blank()


def stage(blank, **kwargs):
    return factories.StageFactory(revision=blank.route, **kwargs)


def state(blank, of, subject):
    provenance = provenance_of(subject)
    stages = stages_with_characteristics(provenance.routes[0])
    return Rows(provenance, stages).state(of, subject)


def test_what_is_read_on_the_parts_rolls_up_to_the_blank(blank):
    press = stage(blank, scope="blank")
    parts = {
        "lamination": blank.laminations.first(),
        "mix": blank.spreads.first().mix,
        "load": blank.loaded.get().load,
        "coupon": factories.CouponFactory(mix=blank.spreads.first().mix),
        "blank": blank,
    }
    for kind, thing in parts.items():
        characteristic = factories.CharacteristicFactory(stage=press, on=kind)
        about = {"propeller": None, kind: thing}
        factories.ReadingFactory(characteristic=characteristic, **about)
    result = state(blank, press, blank).readings
    assert {r.subject_kind for r in result} == set(parts)


def test_readings_of_a_propeller_are_not_the_blanks(blank):
    propeller = factories.PropellerFactory(blank=blank)
    shape = stage(blank, scope="propeller", code="shape")
    characteristic = factories.CharacteristicFactory(stage=shape)
    mine = factories.ReadingFactory(characteristic=characteristic, propeller=propeller)
    twin = factories.PropellerFactory(blank=blank)
    factories.ReadingFactory(characteristic=characteristic, propeller=twin)
    assert state(blank, shape, propeller).readings == [mine]


def test_corrected_and_withdrawn_rows_are_kept_apart(blank):
    shape = stage(blank, scope="blank")
    characteristic = factories.CharacteristicFactory(stage=shape, on="blank")
    about = {"characteristic": characteristic, "propeller": None, "blank": blank}
    old = factories.ReadingFactory(**about)
    new = factories.ReadingFactory(**about, corrects=old, reason="Slip")
    gone = factories.ReadingFactory(**about)
    row = factories.ReadingFactory(
        **about, corrects=gone, reason="Other blank", verdict="withdrawn"
    )
    result = state(blank, shape, blank)
    assert result.readings == [new]
    assert set(result.replaced) == {old, gone, row}


def test_readings_come_in_the_order_they_were_taken(blank):
    shape = stage(blank, scope="blank")
    characteristic = factories.CharacteristicFactory(stage=shape, on="blank")
    about = {"characteristic": characteristic, "propeller": None, "blank": blank}
    late = factories.NOON + dt.timedelta(hours=1)
    second = factories.ReadingFactory(**about, happened_at=late)
    first = factories.ReadingFactory(**about)
    assert state(blank, shape, blank).readings == [first, second]


def test_events_belong_to_their_stage(blank):
    rest, press = stage(blank, scope="blank"), stage(blank, scope="blank")
    person = factories.PersonFactory()
    event = StageEvent.objects.create(
        stage=rest,
        blank=blank,
        kind="began",
        happened_at=factories.NOON,
        written_by=person,
        written_at=factories.NOON,
    )
    assert state(blank, rest, blank).events == [event]
    assert state(blank, press, blank).events == []
