"""What may be read on a thing, with which gauge last, and for whose stages."""

import pytest

from records.queries.readings.characteristics import (
    characteristics_of,
    gauges_last_used,
    readings_listed,
    versions_of,
    whose_stages,
)
from tests import factories

pytestmark = pytest.mark.django_db


def test_all_that_a_route_asks_of_a_kind_in_its_order(django_assert_num_queries):
    revision = factories.RouteRevisionFactory()
    second = factories.StageFactory(revision=revision, order=2)
    first = factories.StageFactory(revision=revision, order=1)
    b = factories.CharacteristicFactory(stage=second, order=1)
    a = factories.CharacteristicFactory(stage=first, order=2)
    factories.CharacteristicFactory(stage=first, on="blank")
    factories.CharacteristicFactory()
    with django_assert_num_queries(1):
        characteristics = characteristics_of("propeller", [revision])
        assert [c.stage.revision.route for c in characteristics]
    assert characteristics == [a, b]


def test_the_parts_count_for_their_blank():
    blank = factories.glued_blank()
    mix = blank.spreads.first().mix
    assert whose_stages(blank.laminations.first()) == blank
    assert whose_stages(mix) == blank
    assert whose_stages(blank.loaded.get().load) == blank
    assert whose_stages(factories.CouponFactory(mix=mix)) == blank


def test_what_is_in_no_blank_counts_for_itself():
    for thing in (
        factories.LaminationFactory(),
        factories.MixFactory(),
        factories.PropellerFactory(),
        factories.BoardFactory(),
    ):
        assert whose_stages(thing) == thing


def test_the_gauge_last_used_is_offered_on_every_thing():
    characteristic = factories.CharacteristicFactory(code="track")
    again = factories.CharacteristicFactory(
        code="track", stage=factories.StageFactory(code=characteristic.stage.code)
    )
    first, last = factories.GaugeFactory(), factories.GaugeFactory()
    factories.ReadingFactory(characteristic=characteristic, gauge=first)
    factories.ReadingFactory(characteristic=again, gauge=last)
    factories.ReadingFactory(characteristic=characteristic)
    assert gauges_last_used(characteristic.stage) == {"track": last.pk}
    assert gauges_last_used(factories.StageFactory()) == {}


def test_the_list_of_readings_takes_one_query(django_assert_num_queries):
    for _ in range(20):
        factories.ReadingFactory()
    with django_assert_num_queries(1):
        for reading in readings_listed():
            assert reading.subject
            assert not hasattr(reading, "corrected_by")


def test_every_version_of_a_reading_is_found_from_any_of_them():
    first = factories.ReadingFactory()
    about = {"characteristic": first.characteristic, "propeller": first.propeller}
    second = factories.ReadingFactory(**about, corrects=first, reason="Slip")
    third = factories.ReadingFactory(**about, corrects=second, reason="Slip")
    factories.ReadingFactory(**about)
    for one in (first, second, third):
        assert versions_of(one) == [first, second, third]
