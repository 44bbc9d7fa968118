"""The kind of check that a signature may honestly be called."""

import datetime as dt

import pytest

from records.models import StageEvent
from records.queries.builds.progress import progress_of
from records.rules.gates.checks import check_is_honest, kinds_open_to, last_work_of
from tests import factories

pytestmark = pytest.mark.django_db
HOUR = dt.timedelta(hours=1)


@pytest.fixture
def maker(shop):
    return factories.PersonFactory(name="Maker")


@pytest.fixture
def stranger(maker):
    return factories.PersonFactory(name="Stranger")


@pytest.fixture
def characteristic(maker):
    return factories.CharacteristicFactory(stage__order=2)


@pytest.fixture
def propeller(characteristic):
    blank = factories.BlankFactory(route=characteristic.stage.revision)
    return factories.PropellerFactory(blank=blank)


def read(characteristic, propeller, by, **kwargs):
    return factories.ReadingFactory(
        characteristic=characteristic, propeller=propeller, written_by=by, **kwargs
    )


def looked_at(characteristic, propeller):
    progress = progress_of(propeller)
    return progress, progress.at(propeller, characteristic.stage.code)


def kinds(person, characteristic, propeller, hours=0):
    progress, state = looked_at(characteristic, propeller)
    now = factories.NOON + hours * HOUR
    return kinds_open_to(person, progress, state, delay_h=12, now=now)


def test_who_took_no_part_is_independent(characteristic, propeller, maker, stranger):
    read(characteristic, propeller, maker)
    assert kinds(stranger, characteristic, propeller) == ["self", "independent"]


@pytest.mark.parametrize(
    ("hours", "open_"), [(0, ["self"]), (11, ["self"]), (12, ["self", "later"])]
)
def test_who_took_part_waits(characteristic, propeller, maker, hours, open_):
    read(characteristic, propeller, maker)
    assert kinds(maker, characteristic, propeller, hours) == open_


def test_the_clock_of_the_book_counts_not_what_was_said(
    characteristic, propeller, maker
):
    early = factories.NOON - 24 * HOUR
    read(characteristic, propeller, maker, happened_at=early, written_at=factories.NOON)
    progress, state = looked_at(characteristic, propeller)
    assert last_work_of(maker, progress, state) == factories.NOON


def test_what_was_corrected_was_still_done(characteristic, propeller, maker, stranger):
    old = read(characteristic, propeller, stranger)
    read(characteristic, propeller, maker, corrects=old, reason="Slip")
    assert kinds(stranger, characteristic, propeller) == ["self"]


def test_beginning_a_stage_is_a_hand_in_it(characteristic, propeller, maker, stranger):
    read(characteristic, propeller, maker)
    StageEvent.objects.create(
        stage=characteristic.stage,
        propeller=propeller,
        kind="began",
        happened_at=factories.NOON,
        written_by=stranger,
        written_at=factories.NOON,
    )
    assert kinds(stranger, characteristic, propeller) == ["self"]


def test_spreading_glue_is_a_hand_in_the_glue_up(maker, stranger):
    blank = factories.glued_blank()
    stage = factories.StageFactory(
        revision=blank.route, scope="blank", evidence="joints"
    )
    progress = progress_of(blank)
    state = progress.at(blank, stage.code)
    assert last_work_of(maker, progress, state) == factories.NOON
    assert last_work_of(stranger, progress, state) is None


def test_a_stage_without_work_counts_the_build_before_it(
    characteristic, propeller, maker, stranger
):
    read(characteristic, propeller, maker)
    last = factories.StageFactory(revision=characteristic.stage.revision, order=3)
    progress = progress_of(propeller)
    state = progress.at(propeller, last.code)
    assert last_work_of(maker, progress, state) is not None
    assert last_work_of(stranger, progress, state) is None


@pytest.mark.parametrize(
    ("needed", "claimed", "good"),
    [
        ("self", "self", True),
        ("self", "independent", True),
        ("later", "self", False),
        ("later", "independent", True),
        ("independent", "self", False),
        ("independent", "independent", True),
    ],
)
def test_a_stage_needs_its_kind_at_least(stranger, maker, needed, claimed, good):
    stage = factories.StageFactory(check_kind=needed)
    characteristic = factories.CharacteristicFactory(stage=stage)
    blank = factories.BlankFactory(route=stage.revision)
    propeller = factories.PropellerFactory(blank=blank)
    read(characteristic, propeller, maker)
    progress, state = looked_at(characteristic, propeller)
    findings = check_is_honest(
        person=stranger,
        progress=progress,
        state=state,
        claimed=claimed,
        delay_h=12,
        now=factories.NOON,
    )
    assert (findings == []) is good
