"""Differences are computed once their readings are all there."""

from decimal import Decimal

import pytest

from records.queries.readings.context import context_for
from records.rules.readings.ranges import (
    groups_of,
    ranges_of,
    row_of,
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
    facts = {"on": "propeller", "per": "once", "computed": "range_of_points", **kwargs}
    spread_facts = {
        "on": facts.pop("whole", facts["on"]),
        "computed": facts.pop("computed"),
        "unit": facts.get("unit", "mm"),
        "per": "station" if facts["per"] == "station" else "once",
    }
    one = factories.CharacteristicFactory(stage=stage, code="part", **facts)
    difference = factories.CharacteristicFactory(
        stage=stage, code="difference", compares="part", **spread_facts
    )
    factories.LimitFactory(characteristic=difference, high="0.1")
    return one, difference


def read(characteristics, thing, entered, **kwargs):
    about = {"propeller": None, characteristics.on: thing}
    return factories.ReadingFactory(
        characteristic=characteristics, entered=entered, **{**about, **kwargs}
    )


def groups(thing, characteristics):
    context = context_for(thing, characteristics)
    return groups_of(characteristics[1], context, list(characteristics)), context


def test_differences_are_found_by_the_code_they_compare(stage):
    one, difference = pair(stage)
    assert ranges_of([one, difference], {"part"}) == [difference]
    assert ranges_of([one, difference], {"other"}) == []


@pytest.mark.parametrize(("count", "whole"), [(3, False), (4, True), (5, True)])
def test_points_are_whole_once_as_many_as_asked_are_read(
    stage, propeller, count, whole
):
    characteristics = pair(stage, at_least=4)
    for n in range(count):
        read(characteristics[0], propeller, f"110.0{n}")
    findings, context = groups(propeller, characteristics)
    assert bool(findings) is whole
    if whole:
        row = row_of(findings[0], context, keep_limit=False)
        assert row.entered == f"0.0{count - 1}"
        assert row.verdict == "inside"


def test_one_reading_is_never_a_difference(stage, propeller):
    characteristics = pair(stage)
    read(characteristics[0], propeller, "110")
    assert groups(propeller, characteristics)[0] == []


def test_blades_are_compared_station_by_station(stage, propeller):
    characteristics = pair(stage, per="station", computed="range_of_blades", unit="deg")
    inner, outer = propeller.revision.stations.order_by("radius_mm")[:2]
    read(characteristics[0], propeller, "36.4", unit="deg", blade=1, station=inner)
    read(characteristics[0], propeller, "36.6", unit="deg", blade=2, station=inner)
    read(characteristics[0], propeller, "24.0", unit="deg", blade=1, station=outer)
    [group], context = groups(propeller, characteristics)
    assert group.station == inner
    assert row_of(group, context, keep_limit=False).entered == "0.2"


def test_laminations_are_compared_over_the_whole_stack(stage, propeller):
    characteristics = pair(stage, on="lamination", whole="blank")
    blank = propeller.blank
    first, second = blank.laminations.order_by("position")
    read(characteristics[0], first, "9.4")
    assert groups(blank, characteristics)[0] == []
    read(characteristics[0], second, "9.5")
    [group], context = groups(blank, characteristics)
    assert group.thing == blank
    assert row_of(group, context, keep_limit=False).blank == blank


def test_a_new_difference_takes_the_place_of_the_one_before(stage, propeller):
    characteristics = pair(stage)
    for entered in ("110.0", "110.05"):
        read(characteristics[0], propeller, entered)
    old = read(
        characteristics[1], propeller, "0.02", high=1, judged_unit="mm", rule="simple"
    )
    [group], context = groups(propeller, characteristics)
    new = row_of(group, context, keep_limit=False)
    assert (new.corrects, new.high) == (old, Decimal("0.1"))
    assert new.reason == "computed again from 2 readings"
    kept = row_of(group, context, keep_limit=True)
    assert kept.high == 1  # a correction never brings in a new limit


def test_a_difference_without_its_readings_is_named(stage, propeller):
    characteristics = pair(stage)
    row = read(characteristics[1], propeller, "0.02")
    findings, context = groups(propeller, characteristics)
    assert without_readings(characteristics[1], context, findings) == [row]


def test_a_difference_of_nothing_known_is_none(stage, propeller):
    _, difference = pair(stage)
    context = context_for(propeller, [difference])
    assert groups_of(difference, context, [difference]) == []
