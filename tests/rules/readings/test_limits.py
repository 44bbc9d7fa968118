"""Which limit applies: the drawing's, the load's, a design's own or the route's."""

import datetime as dt
from decimal import Decimal

import pytest

from records.rules.readings.limits import (
    in_force_at_once,
    limit_for,
    limit_from,
    load_limit,
    station_limit,
    written_limit,
)
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def station(db):
    return factories.RevisionFactory().stations.get(radius_mm=645)


@pytest.mark.parametrize(
    ("nominal", "low", "high", "unit"),
    [
        ("angle", "15.99", "16.99", "deg"),  # 16.49 +- 0.5
        ("chord", "127", "133", "mm"),  # 130 +- 3
        ("thickness", "15.5", "16.5", "mm"),  # 16 +- 0.5
    ],
)
def test_the_drawing_gives_both_sides_exactly(station, nominal, low, high, unit):
    limit = station_limit(nominal, station)
    assert (limit.low, limit.high, limit.unit) == (Decimal(low), Decimal(high), unit)
    assert limit.source == "drawing, station at 645 mm"
    assert limit.limit is None


def test_a_station_comes_before_any_limit_of_the_route(station):
    characteristic = factories.CharacteristicFactory(
        unit="deg", per="station", nominal="angle"
    )
    factories.LimitFactory(characteristic=characteristic, high=90)
    findings = limit_for(characteristic, station.revision, station, factories.NOON)
    assert findings.high == Decimal("16.99")


def test_the_routes_limit_says_its_kind_of_source_place_and_revision():
    limit = factories.LimitFactory(
        number=2, high=12, source_kind="published", source="Handbook, p. 3"
    )
    findings = written_limit(limit)
    assert findings.source == "published text: Handbook, p. 3 (limit 2)"
    assert written_limit(None) is None


def test_a_designs_own_limit_is_found_by_its_revision():
    limit = factories.LimitFactory(high=2)
    design = factories.RevisionFactory()
    own = factories.LimitFactory(
        characteristic=limit.characteristic, design_revision=design, high=3
    )
    characteristic = limit.characteristic
    assert limit_for(characteristic, design, None, factories.NOON).limit == own
    assert limit_for(characteristic, None, None, factories.NOON).limit == limit


def test_without_a_limit_there_is_none():
    characteristic = factories.CharacteristicFactory()
    assert limit_for(characteristic, None, None, factories.NOON) is None


def test_a_press_load_brings_the_range_of_its_glue():
    load = factories.PressLoadFactory()
    limit = load_limit(load)
    assert (limit.low, limit.high, limit.unit) == (1_000_000, 1_400_000, "Pa")
    characteristic = factories.CharacteristicFactory(
        on="load", computed="glue_line_pressure"
    )
    assert limit_from(characteristic, {}, load=load) == limit


def test_other_readings_on_a_load_have_the_routes_limit():
    limit = factories.LimitFactory(characteristic__on="load")
    load = factories.PressLoadFactory()
    characteristic = limit.characteristic
    assert (
        limit_from(characteristic, {characteristic.pk: limit}, load=load).limit == limit
    )


def test_one_query_at_most(django_assert_num_queries, station):
    limit = factories.LimitFactory()
    with django_assert_num_queries(1):
        limit_for(limit.characteristic, None, None, factories.NOON)
    angle = factories.CharacteristicFactory(unit="deg", nominal="angle")
    with django_assert_num_queries(0):
        limit_for(angle, station.revision, station, factories.NOON)


def test_a_limit_that_came_later_is_known_to_have_come_later(station):
    limit = written_limit(factories.LimitFactory(in_force_from=factories.NOON))
    assert in_force_at_once(limit, factories.NOON)
    assert not in_force_at_once(limit, factories.NOON - dt.timedelta(seconds=1))
    assert in_force_at_once(station_limit("angle", station), factories.NOON)
    assert in_force_at_once(None, factories.NOON)
