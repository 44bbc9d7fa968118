"""Differences are computed once their readings are all there."""

from decimal import Decimal

import pytest

from records.queries.readings.context import bench_for
from records.rules.readings.ranges import (
    groups_of,
    row_of,
    spreads_of,
    without_readings,
)
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def stage(shop):
    blank = factories.stacked_blank(laminations=2)
    return factories.StageFactory(revision=blank.route)


@pytest.fixture
def propeller(stage):
    return factories.PropellerFactory(blank=stage.revision.blanks.get())


def pair(stage, **kwargs):
    """Make readings and the difference of them, with its limit."""
    facts = {"on": "propeller", "per": "once", "computed": "spread_of_points", **kwargs}
    spread_facts = {
        "on": facts.pop("whole", facts["on"]),
        "computed": facts.pop("computed"),
        "unit": facts.get("unit", "mm"),
        "per": "station" if facts["per"] == "station" else "once",
    }
    one = factories.CharacteristicFactory(stage=stage, code="part", **facts)
    spread = factories.CharacteristicFactory(
        stage=stage, code="spread", compares="part", **spread_facts
    )
    factories.LimitFactory(characteristic=spread, high="0.1")
    return one, spread


def read(asked, thing, entered, **kwargs):
    about = {"propeller": None, asked.on: thing}
    return factories.ReadingFactory(
        characteristic=asked, entered=entered, **{**about, **kwargs}
    )


def groups(thing, asked):
    bench = bench_for(thing, asked)
    return groups_of(asked[1], bench, list(asked)), bench


def test_differences_are_found_by_the_code_they_compare(stage):
    one, spread = pair(stage)
    assert spreads_of([one, spread], {"part"}) == [spread]
    assert spreads_of([one, spread], {"other"}) == []


@pytest.mark.parametrize(("count", "whole"), [(3, False), (4, True), (5, True)])
def test_points_are_whole_once_as_many_as_asked_are_read(
    stage, propeller, count, whole
):
    asked = pair(stage, at_least=4)
    for n in range(count):
        read(asked[0], propeller, f"110.0{n}")
    found, bench = groups(propeller, asked)
    assert bool(found) is whole
    if whole:
        row = row_of(found[0], bench, keep_limit=False)
        assert row.entered == f"0.0{count - 1}"
        assert row.verdict == "inside"


def test_one_reading_is_never_a_difference(stage, propeller):
    asked = pair(stage)
    read(asked[0], propeller, "110")
    assert groups(propeller, asked)[0] == []


def test_blades_are_compared_station_by_station(stage, propeller):
    asked = pair(stage, per="station", computed="spread_of_blades", unit="deg")
    inner, outer = propeller.revision.stations.order_by("radius_mm")[:2]
    read(asked[0], propeller, "36.4", unit="deg", blade=1, station=inner)
    read(asked[0], propeller, "36.6", unit="deg", blade=2, station=inner)
    read(asked[0], propeller, "24.0", unit="deg", blade=1, station=outer)
    [group], bench = groups(propeller, asked)
    assert group.station == inner
    assert row_of(group, bench, keep_limit=False).entered == "0.2"


def test_laminations_are_compared_over_the_whole_stack(stage, propeller):
    asked = pair(stage, on="lamination", whole="blank")
    blank = propeller.blank
    first, second = blank.laminations.order_by("position")
    read(asked[0], first, "9.4")
    assert groups(blank, asked)[0] == []
    read(asked[0], second, "9.5")
    [group], bench = groups(blank, asked)
    assert group.thing == blank
    assert row_of(group, bench, keep_limit=False).blank == blank


def test_a_new_difference_takes_the_place_of_the_one_before(stage, propeller):
    asked = pair(stage)
    for entered in ("110.0", "110.05"):
        read(asked[0], propeller, entered)
    old = read(asked[1], propeller, "0.02", high=1, judged_unit="mm", rule="simple")
    [group], bench = groups(propeller, asked)
    new = row_of(group, bench, keep_limit=False)
    assert (new.corrects, new.high) == (old, Decimal("0.1"))
    assert new.reason == "computed again from 2 readings"
    kept = row_of(group, bench, keep_limit=True)
    assert kept.high == 1  # a correction never brings in a new limit


def test_a_difference_without_its_readings_is_named(stage, propeller):
    asked = pair(stage)
    row = read(asked[1], propeller, "0.02")
    found, bench = groups(propeller, asked)
    assert without_readings(asked[1], bench, found) == [row]


def test_a_difference_of_nothing_known_is_none(stage, propeller):
    _, spread = pair(stage)
    bench = bench_for(propeller, [spread])
    assert groups_of(spread, bench, [spread]) == []
