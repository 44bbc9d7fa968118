"""What can be charted is listed in one query, a series is read in one."""

import pytest

from records.queries.trends import NEWEST, characteristics_read, series_of
from tests import factories


@pytest.fixture
def characteristic(shop):
    stage = factories.StageFactory(code="press", name="Press")
    return factories.CharacteristicFactory(stage=stage, code="slip", name="Slip")


def read(characteristic, count):
    propeller = factories.PropellerFactory()
    for number in range(count):
        factories.ReadingFactory(
            characteristic=characteristic,
            propeller=propeller,
            judged=number % 7,
            judged_unit="mm",
        )


@pytest.mark.parametrize("count", [2, 40])
def test_queries_do_not_grow(characteristic, count, django_assert_num_queries):
    read(characteristic, count)
    with django_assert_num_queries(1):
        (row,) = characteristics_read()
    assert row.readings == count
    with django_assert_num_queries(1):
        assert len(series_of("press", "slip").points) == count


def test_a_series_keeps_the_newest(characteristic):
    read(characteristic, NEWEST + 3)
    assert len(series_of("press", "slip").points) == NEWEST
