"""Every stage of a thing and of what it was made of, in a constant count of queries."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.queries.builds.progress import progress_of, stages_of
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(db):
    blank = factories.glued_blank()
    for order, scope in enumerate(("lot", "board", "blank", "propeller"), start=1):
        factories.StageFactory(
            revision=blank.route, order=order, scope=scope, code=f"on-{scope}"
        )
    return factories.PropellerFactory(blank=blank)


def test_stages_of_every_scope_come_in_the_routes_order(propeller):
    states = progress_of(propeller).states
    assert [s.kind for s in states] == ["lot", *["board"] * 6, "blank", "propeller"]


def test_a_thing_has_the_stages_of_its_own_scope(propeller):
    [state] = stages_of(propeller)
    assert state.stage.code == "on-propeller"
    [state] = stages_of(propeller.blank)
    assert state.stage.code == "on-blank"
    board = propeller.blank.laminations.first().board
    assert [s.stage.code for s in stages_of(board)] == ["on-board"]
    assert [s.stage.code for s in stages_of(board.lot)] == ["on-lot"]


def test_a_stage_is_found_by_its_code(propeller):
    progress = progress_of(propeller)
    assert progress.at(propeller, "on-propeller") is not None
    assert progress.at(propeller, "on-blank") is None
    assert {s.stage.code for s in progress.before(3)} == {"on-lot", "on-board"}


def test_a_lot_is_received_once_for_every_route(propeller):
    lot = propeller.blank.laminations.first().board.lot
    [state] = stages_of(lot)
    factories.SignOffFactory(
        stage=state.stage, propeller=None, lot=lot, digest=state.digest()
    )
    other = factories.RouteRevisionFactory()
    factories.StageFactory(revision=other, scope="lot", code="on-lot")
    [state] = stages_of(lot, other)
    assert state.signed is not None


def test_without_any_route_there_are_no_stages():
    assert stages_of(factories.BoardFactory()) == []


def test_glue_has_no_stages_of_its_own(propeller):
    assert stages_of(propeller.blank.spreads.first().mix) == []


def test_queries_do_not_grow_with_what_was_read_and_signed(propeller):
    def count():
        with CaptureQueriesContext(connection) as context:
            progress_of(propeller)
        return len(context)

    def work(readings):
        for state in progress_of(propeller).states:
            characteristic = factories.CharacteristicFactory(
                stage=state.stage, on=state.kind
            )
            about = {"propeller": None, state.kind: state.subject}
            for _ in range(readings):
                factories.ReadingFactory(characteristic=characteristic, **about)
            factories.SignOffFactory(stage=state.stage, **about)

    work(1)
    few = count()
    work(5)
    assert count() == few
    assert few <= 25
