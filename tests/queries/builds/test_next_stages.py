"""At which stage every blank and propeller in work is."""

import pytest

from records.queries.builds.next_stages import in_work
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def route(shop):
    route = factories.RouteRevisionFactory()
    for order, (code, scope) in enumerate(
        [("glue", "blank"), ("shape", "propeller"), ("balance", "propeller")], start=1
    ):
        factories.StageFactory(revision=route, code=code, scope=scope, order=order)
    return route


def codes():
    return [(str(f.thing), f.stage and f.stage.code) for f in in_work()]


def test_first_unsigned_stage_of_its_own_scope(route):
    blank = factories.BlankFactory(number="KX-1", route=route)
    propeller = factories.PropellerFactory(
        serial="SX-1", blank__route=route, blank__state="shaped"
    )
    assert codes() == [("SX-1", "shape"), ("KX-1", "glue")]
    shape = route.stages.get(code="shape")
    factories.SignOffFactory(stage=shape, propeller=propeller)
    factories.SignOffFactory(
        stage=route.stages.get(code="glue"), propeller=None, blank=blank
    )
    assert codes() == [("SX-1", "balance"), ("KX-1", None)]


@pytest.mark.parametrize("state", ["released", "delivered", "scrapped", "retired"])
def test_what_is_not_in_work_is_left_out(route, state):
    factories.PropellerFactory(state=state)
    factories.BlankFactory(state="scrapped")
    assert in_work() == []


def test_back_for_repair_is_in_work(route):
    factories.PropellerFactory(serial="SX-2", state="returned", blank__route=route)
    assert ("SX-2", "shape") in codes()


def test_four_queries_for_all(route, django_assert_num_queries):
    for _ in range(20):
        factories.PropellerFactory(blank__route=route)
    with django_assert_num_queries(4):
        result = in_work()
        assert [str(f.thing.revision.design) for f in result]
    assert len(result) == 20
