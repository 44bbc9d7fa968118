import datetime as dt

import pytest

from records.models import Blank, Propeller, Stage, StageEvent
from records.rules.builds import propellers as builds
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db
State = Propeller.State


@pytest.mark.parametrize("serial", ["1", "2026-001", "TA 7.b_2", "x" * 40])
def test_a_serial_that_can_be_stamped_may_be_given(serial):
    assert builds.serial_may_be_given(serial, None) == []


@pytest.mark.parametrize("serial", ["", " ", "a/b", "a?b", "-a", "a-", "ä", "x" * 41])
def test_a_serial_that_can_not_be_scanned_is_refused(serial):
    [finding] = builds.serial_may_be_given(serial, None)
    assert finding.field == "serial"


@pytest.mark.parametrize(
    ("state", "open_"),
    [
        (State.IN_WORK, True),
        (State.RETURNED, True),
        (State.RELEASED, False),
        (State.DELIVERED, False),
        (State.RETIRED, False),
        (State.SCRAPPED, False),
    ],
)
def test_what_is_in_the_shop_can_be_worked_on(state, open_):
    propeller = factories.PropellerFactory.build(
        state=state, blank=None, revision=None, written_by=None
    )
    assert (builds.in_the_shop(propeller) == []) is open_


@pytest.mark.parametrize("state", [Blank.State.GLUED, Blank.State.SHAPED])
def test_propellers_start_from_glued_blanks(state):
    assert builds.propeller_may_start(Blank(number="K1", state=state)) == []


def test_a_design_fits_that_has_the_laminations_and_the_woods():
    revision = factories.RevisionFactory(laminations=4)
    blank = factories.BlankFactory(revision__laminations=4)
    assert builds.design_fits_blank(revision, blank, ["Birch"], ["Ash", "Birch"]) == []
    [finding] = builds.design_fits_blank(revision, blank, ["Birch"], [])
    assert "allows: none" in finding.sentence


def test_a_stage_is_of_the_route_and_of_the_thing():
    blank = factories.BlankFactory()
    own = factories.StageFactory(revision=blank.route, scope=Stage.Scope.BLANK)
    assert builds.stage_is_of(own, blank) == []
    propeller = factories.PropellerFactory(blank=blank)
    assert len(builds.stage_is_of(own, propeller)) == 1
    other = factories.StageFactory(scope=Stage.Scope.BLANK)
    assert len(builds.stage_is_of(other, propeller)) == 2


@pytest.mark.parametrize(
    ("kind", "began", "findings"),
    [("ended", 0, 0), ("ended", 1, 1), ("ended", None, 1), ("note", None, 0)],
)
def test_what_ends_has_begun(kind, began, findings):
    events = []
    if began is not None:
        moment = NOON + dt.timedelta(hours=began)
        events = [StageEvent(kind="began", happened_at=moment)]
    assert len(builds.began_before_it_ended(kind, NOON, events)) == findings
