"""A route as plain data, from the file and from the book."""

import datetime as dt
from decimal import Decimal

import pytest

from records.models import Stage
from records.models.routes import READ_ON
from records.queries.routes.plans import default_plan, plan_of
from tests import factories


def test_the_default_plan_is_read_as_decimals():
    moisture = default_plan()[0]["characteristics"][0]
    assert moisture["plausible_high"] == Decimal("40")
    [limit] = moisture["limits"]
    assert (limit["low"], limit["high"]) == (Decimal(7), Decimal(13))
    assert limit["source_kind"] == "maker"


def test_what_stands_on_nothing_says_so():
    limits = [
        limit
        for stage in default_plan()
        for characteristics in stage["characteristics"]
        for limit in characteristics["limits"]
    ]
    shop = [x for x in limits if x["source_kind"] == "shop"]
    assert shop
    assert all("no source" in x["source"] for x in shop)
    assert all("no source" not in x["source"] for x in limits if x not in shop)


def test_each_stage_of_the_default_plan_asks_on_things_of_its_scope():
    for stage in default_plan():
        assert stage["scope"] in Stage.Scope.values
        for characteristic in stage["characteristics"]:
            assert characteristic["on"] in READ_ON[stage["scope"]]


@pytest.mark.django_db
def test_a_plan_takes_three_queries_and_the_newest_limits(django_assert_num_queries):
    characteristic = factories.CharacteristicFactory(name="Bore")
    later = factories.NOON + dt.timedelta(days=1)
    factories.LimitFactory(characteristic=characteristic, high=3)
    factories.LimitFactory(
        characteristic=characteristic, number=2, high=2, in_force_from=later
    )
    with django_assert_num_queries(3):
        [stage] = plan_of(characteristic.stage.revision)
    [one] = stage["characteristics"]
    assert one["name"] == "Bore"
    assert [x["high"] for x in one["limits"]] == [Decimal(2)]
    assert one["limits"][0]["in_force_from"] == later
