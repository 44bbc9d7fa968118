"""Deviations counted, the most frequent first, with the sum so far."""

import datetime as dt

import pytest

from records.queries.deviations.pareto import pareto
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


def about(**things):
    return factories.DeviationSubjectFactory(
        deviation=factories.DeviationFactory(), **things
    )


def shown(bars):
    return [(bar.name, bar.count, bar.share_pct) for bar in bars]


def test_most_frequent_first_with_the_share_so_far(shop):
    balance = factories.StageFactory(name="Balance")
    press = factories.StageFactory(name="Press")
    for stage in (press, balance, press, None):
        factories.DeviationFactory(stage=stage)
    assert shown(pareto()["Stage"]) == [
        ("Press", 2, 50),
        ("not said", 1, 75),
        ("Balance", 1, 100),
    ]


def test_cause_is_spelled(shop):
    factories.DeviationFactory(cause_kind="slip", cause="tired")
    factories.DeviationFactory()
    assert shown(pareto()["Cause"]) == [
        ("not said", 1, 50),
        ("slip of a hand or of the pen", 1, 100),
    ]


def test_material_and_supplier_are_found_at_every_level(shop):
    lot = factories.LotFactory(material__name="Ash", supplier__name="Mill")
    board = factories.BoardFactory(lot=lot)
    piece = factories.LaminationFactory(board=board)
    for thing in ({"lot": lot}, {"board": board}, {"lamination": piece}):
        about(**thing)
    mix = factories.MixFactory(sheet__adhesive__name="Resin")
    about(mix=mix)
    about(coupon=factories.CouponFactory(mix=mix))
    about(propeller=factories.PropellerFactory())
    result = pareto()
    assert shown(result["Material"]) == [("Ash", 3, 60), ("Resin", 2, 100)]
    assert result["Supplier"][0].name == "Mill"


def test_gauge_itself_or_the_one_that_read(shop):
    gauge = factories.GaugeFactory(number="TP-9")
    about(gauge=gauge)
    propeller = factories.PropellerFactory()
    reading = factories.ReadingFactory(propeller=propeller, gauge=gauge)
    about(propeller=propeller, reading=reading)
    assert shown(pareto()["Gauge"]) == [("TP-9", 2, 100)]


def test_two_boards_of_one_lot_count_once(shop):
    lot = factories.LotFactory(material__name="Ash")
    deviation = factories.DeviationFactory()
    for _ in range(2):
        board = factories.BoardFactory(lot=lot)
        factories.DeviationSubjectFactory(deviation=deviation, board=board)
    assert shown(pareto()["Material"]) == [("Ash", 1, 100)]


def test_only_since_a_moment_in_five_queries(shop, django_assert_num_queries):
    old = factories.DeviationFactory(happened_at=NOON - dt.timedelta(days=400))
    factories.DeviationSubjectFactory(deviation=old)
    with django_assert_num_queries(5):
        result = pareto(NOON - dt.timedelta(days=365))
    assert result == {
        "Stage": [],
        "Cause": [],
        "Material": [],
        "Supplier": [],
        "Gauge": [],
    }
