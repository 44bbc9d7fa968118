"""What was made of a thing: asked of the rows that say what went where."""

import pytest

from records.models import Blank, Propeller
from records.queries.reach.material import WAYS_TO, Way, reached, standing, upward
from records.queries.subjects import MODELS
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("target", sorted(WAYS_TO))
@pytest.mark.parametrize("kind", sorted(MODELS))
def test_every_way_down_is_a_query_that_runs(kind, target):
    assert list(MODELS[target].objects.filter(reached(kind, 1, target))) == []


def test_a_glue_lot_reaches_as_resin_or_as_hardener(shop):
    mix = factories.MixFactory()
    blank = factories.glued_blank(3, mix=mix)
    factories.glued_blank(3)
    for lot in (mix.resin_lot, mix.hardener_lot):
        assert list(Blank.objects.filter(reached("lot", lot.pk, "blank"))) == [blank]


def test_a_thing_reaches_itself(shop):
    propeller = factories.PropellerFactory()
    reaches = reached("propeller", propeller.pk, "propeller")
    assert list(Propeller.objects.filter(reaches)) == [propeller]


def test_a_gauge_reaches_what_it_measured(shop):
    blank = factories.glued_blank(3)
    gauge = factories.GaugeFactory()
    board = blank.laminations.first().board
    factories.ReadingFactory(propeller=None, board=board, gauge=gauge)
    assert list(Blank.objects.filter(reached("gauge", gauge.pk, "blank"))) == [blank]


@pytest.mark.parametrize(
    ("start", "down", "up"),
    [
        ("lot", "boards__laminations__blank", "laminations__board__lot"),
        ("lot", "mixes_as_resin__spreads__blank", "spreads__mix__resin_lot"),
        ("coupon", "mix__spreads__blank", "spreads__mix__coupons"),
        ("load", "loaded__blank__propellers", "blank__loaded__load"),
        ("lot", "uses__propeller", "uses__lot"),
        ("blank", "", "pk"),
    ],
)
def test_a_way_can_be_turned_round(start, down, up):
    assert upward(Way(start, down)) == up


def test_only_rows_still_true_are_followed():
    assert standing("lot__boards__laminations__blank") == {
        "lot__boards__laminations__state": "good"
    }
    assert standing("mix__spreads__blank") == {
        "mix__spreads__corrected_by__isnull": True
    }
    assert standing("loaded__blank") == {}
