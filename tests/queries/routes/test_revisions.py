"""Which limit is in force, and which revision of a route is the newest."""

import datetime as dt
from decimal import Decimal

import pytest

from records.queries.routes.revisions import (
    history_of_limits,
    limits_in_force,
    newest_in_use,
    newest_revision,
    revisions_of,
    routes_listed,
    stages_with_characteristics,
)
from tests import factories

pytestmark = pytest.mark.django_db
START = factories.NOON
DAY = dt.timedelta(days=1)


@pytest.fixture
def characteristic(db):
    return factories.CharacteristicFactory()


def limit(characteristic, high, *, number=1, start=START, design=None):
    return factories.LimitFactory(
        characteristic=characteristic,
        high=high,
        number=number,
        in_force_from=start,
        design_revision=design,
    )


def high_at(characteristic, moment, design=None):
    limits = limits_in_force([characteristic.pk], moment, design.pk if design else None)
    return limits[characteristic.pk].high


def test_the_newest_begun_limit_is_in_force(characteristic):
    limit(characteristic, 3)
    limit(characteristic, 2, number=2, start=START + DAY)
    assert high_at(characteristic, START) == 3
    assert high_at(characteristic, START + DAY) == 2


def test_what_was_read_before_the_first_limit_is_held_against_it(characteristic):
    limit(characteristic, 3)
    limit(characteristic, 2, number=2, start=START + DAY)
    assert high_at(characteristic, START - DAY) == 3


def test_a_designs_own_limit_comes_before_the_routes(characteristic):
    design = factories.RevisionFactory()
    limit(characteristic, 3, start=START + DAY)
    limit(characteristic, Decimal("1.5"), design=design)
    assert high_at(characteristic, START + 2 * DAY, design) == Decimal("1.5")
    assert high_at(characteristic, START + 2 * DAY) == 3
    assert high_at(characteristic, START + 2 * DAY, factories.RevisionFactory()) == 3


def test_a_designs_limit_that_has_not_begun_leaves_the_routes_in_force(characteristic):
    design = factories.RevisionFactory()
    limit(characteristic, 3)
    limit(characteristic, 1, design=design, start=START + 2 * DAY)
    assert high_at(characteristic, START + DAY, design) == 3


def test_without_a_limit_there_is_none(characteristic):
    assert limits_in_force([characteristic.pk], START) == {}


def test_limits_of_many_take_one_query(django_assert_num_queries):
    characteristics = [factories.CharacteristicFactory() for _ in range(20)]
    for one in characteristics:
        limit(one, 3)
    with django_assert_num_queries(1):
        assert len(limits_in_force([a.pk for a in characteristics], START)) == 20


def test_the_history_of_a_limit_is_newest_first(characteristic):
    old, new = (
        limit(characteristic, 3),
        limit(characteristic, 2, number=2, start=START + DAY),
    )
    assert list(history_of_limits(characteristic)) == [new, old]


def test_the_newest_revision_of_each_route_in_use():
    old = factories.RouteRevisionFactory()
    new = factories.RouteRevisionFactory(route=old.route, number=2)
    other = factories.RouteRevisionFactory()
    factories.RouteRevisionFactory(route__in_use=False)
    assert newest_in_use() == [new, other]
    assert newest_revision(old.route) == new
    assert newest_revision(factories.RouteFactory()) is None
    assert list(revisions_of(old.route)) == [new, old]


def test_stages_come_in_order_with_what_they_ask(django_assert_num_queries):
    revision = factories.RouteRevisionFactory()
    second = factories.StageFactory(revision=revision, order=2)
    first = factories.StageFactory(revision=revision, order=1)
    factories.CharacteristicFactory(stage=second, order=2, code="b")
    factories.CharacteristicFactory(stage=second, order=1, code="a")
    with django_assert_num_queries(2):
        stages = stages_with_characteristics(revision)
        codes = [c.code for s in stages for c in s.characteristics.all()]
        names = {c.stage.name for s in stages for c in s.characteristics.all()}
    assert stages == [first, second]
    assert codes == ["a", "b"]
    assert names == {second.name}


def test_routes_are_listed_with_their_counts_in_one_query(django_assert_num_queries):
    revision = factories.RouteRevisionFactory()
    factories.StageFactory(revision=revision)
    factories.StageFactory(revision=revision)
    factories.BlankFactory(route=revision)
    factories.RouteFactory()
    with django_assert_num_queries(1):
        rows = {r.name: r for r in routes_listed()}
    row = rows[revision.route.name]
    assert (row.newest, row.stage_count, row.blank_count) == (1, 2, 1)
    assert len(rows) == 2
