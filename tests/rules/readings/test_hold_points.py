"""Hold points of the thing and of all that it was made of."""

import pytest

from records.queries.builds.progress import progress_of
from records.rules.readings.hold_points import hold_points_are_signed, hold_points_open
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(db):
    return factories.PropellerFactory(blank=factories.glued_blank(laminations=3))


def stage(propeller, order, **kwargs):
    facts = {"scope": "propeller", "hold_point": True}
    return factories.StageFactory(
        revision=propeller.blank.route, order=order, **{**facts, **kwargs}
    )


def open_before(propeller, at):
    return [(s.stage, s.subject) for s in hold_points_open(progress_of(propeller), at)]


def test_earlier_hold_points_are_open_until_signed(propeller):
    first, second = stage(propeller, 1), stage(propeller, 2)
    assert open_before(propeller, second) == [(first, propeller)]
    [state] = [s for s in progress_of(propeller).states if s.stage == first]
    factories.SignOffFactory(stage=first, propeller=propeller, digest=state.digest())
    assert open_before(propeller, second) == []


def test_a_void_signature_opens_it_again(propeller):
    first, second = stage(propeller, 1), stage(propeller, 2)
    factories.SignOffFactory(stage=first, propeller=propeller, digest="0" * 64)
    assert open_before(propeller, second) == [(first, propeller)]


def test_other_stages_and_later_ones_hold_nothing(propeller):
    stage(propeller, 1, hold_point=False)
    second = stage(propeller, 2)
    stage(propeller, 3)
    assert open_before(propeller, second) == []


def test_lots_boards_and_the_blank_hold_too(propeller):
    for order, scope in enumerate(("lot", "board", "blank"), start=1):
        stage(propeller, order, scope=scope)
    last = stage(propeller, 4)
    scopes = [s.scope for s, _ in open_before(propeller, last)]
    assert scopes == ["lot", "board", "board", "board", "blank"]


@pytest.mark.parametrize(
    ("evidence", "blocks"), [("", True), ("coupon", True), ("joints", False)]
)
def test_while_glue_is_wet_it_warns_and_never_blocks(propeller, evidence, blocks):
    stage(propeller, 1, scope="blank", name="Dry stack")
    second = stage(propeller, 2, evidence=evidence, name="Glue-up")
    [finding] = hold_points_are_signed(progress_of(propeller), second)
    assert finding.blocks is blocks
    assert finding.sentence.startswith("Hold point Dry stack of blank")
    assert finding.sentence.endswith("Sign it before Glue-up.")
