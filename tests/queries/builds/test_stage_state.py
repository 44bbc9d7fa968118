"""What stands at a stage, and what its signature covers."""

import datetime as dt

import pytest

from records.queries.builds.progress import stages_of
from tests import factories

pytestmark = pytest.mark.django_db
LATER = factories.NOON + dt.timedelta(hours=1)


@pytest.fixture
def characteristic(db):
    return factories.CharacteristicFactory()


@pytest.fixture
def propeller(characteristic):
    blank = factories.BlankFactory(route=characteristic.stage.revision)
    return factories.PropellerFactory(blank=blank)


def read(characteristic, propeller, **kwargs):
    return factories.ReadingFactory(
        characteristic=characteristic, propeller=propeller, **kwargs
    )


def state_of(propeller):
    [state] = stages_of(propeller)
    return state


def sign(propeller):
    state = state_of(propeller)
    return factories.SignOffFactory(
        stage=state.stage, propeller=propeller, digest=state.digest()
    )


def test_a_signature_covers_the_readings_as_they_stand(characteristic, propeller):
    old = read(characteristic, propeller, entered="1.0")
    new = read(characteristic, propeller, entered="1.1", corrects=old, reason="Slip")
    covers = state_of(propeller).covers()
    assert [r["id"] for r in covers["readings"]] == [new.pk]
    assert covers["readings"][0]["entered"] == "1.1"
    assert covers["subject"] == f"propeller {propeller}"


def test_nobody_signed_nothing_stands(propeller):
    assert state_of(propeller).signed is None


def test_the_newest_signature_that_stands_counts(characteristic, propeller):
    read(characteristic, propeller)
    sign(propeller)
    second = sign(propeller)
    assert state_of(propeller).signed == second


def test_a_change_voids_every_signature_before_it(characteristic, propeller):
    read(characteristic, propeller)
    sign(propeller)
    read(characteristic, propeller)
    state = state_of(propeller)
    assert state.signed is None
    assert all("has changed" in s.void for s in state.signatures)


def test_stale_readings_stand_but_do_not_count(propeller, characteristic):
    stage = factories.StageFactory(
        revision=characteristic.stage.revision,
        order=characteristic.stage.order + 1,
        goes_stale=True,
    )
    balance = factories.CharacteristicFactory(stage=stage)
    work = factories.CharacteristicFactory(stage=stage, changes_material=True)
    first = read(balance, propeller)
    second = read(work, propeller, happened_at=LATER)
    state = next(s for s in stages_of(propeller) if s.stage == stage)
    assert state.readings == [first, second]
    assert state.current == [second]
    assert state.covers()["stale"] == [first.pk]


def test_readings_going_stale_void_the_signature_but_a_new_one_stands(
    propeller, characteristic
):
    stage = factories.StageFactory(
        revision=characteristic.stage.revision,
        order=characteristic.stage.order + 1,
        goes_stale=True,
    )
    balance = factories.CharacteristicFactory(stage=stage)
    work = factories.CharacteristicFactory(
        stage=characteristic.stage, changes_material=True
    )
    read(balance, propeller)

    def state():
        return next(s for s in stages_of(propeller) if s.stage == stage)

    def sign_it():
        factories.SignOffFactory(
            stage=stage, propeller=propeller, digest=state().digest()
        )

    sign_it()
    assert state().signed
    read(work, propeller, happened_at=LATER)
    assert state().signed is None
    sign_it()
    assert state().signed


def test_the_things_of_a_stage_are_its_own_and_those_of_the_chain(propeller):
    state = state_of(propeller)
    assert state.things("propeller") == [propeller]
    assert state.things("blank") == [propeller.blank]
