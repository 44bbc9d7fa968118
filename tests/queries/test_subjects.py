"""Things by kind and number."""

import pytest

from records.models import Reading
from records.queries.subjects import (
    MODELS,
    about,
    called,
    find,
    kind_of,
    named,
    number_of,
)
from tests import factories

pytestmark = pytest.mark.django_db


def test_every_kind_a_row_can_be_about_is_known():
    assert set(Reading.subject_kinds) | {"gauge"} == set(MODELS)


def test_a_propeller_is_known_by_its_serial():
    propeller = factories.PropellerFactory(serial="SN-007")
    assert (kind_of(propeller), number_of(propeller)) == ("propeller", "SN-007")
    assert called(propeller) == "propeller SN-007"
    assert find("propeller", " SN-007 ") == propeller


def test_a_load_is_called_by_its_trade_name():
    assert called(factories.PressLoadFactory(number="P0009")) == "press load P0009"


@pytest.mark.parametrize(("kind", "number"), [("lot", "L9"), ("anvil", "L0001")])
def test_nothing_is_found_under_an_unknown_number_or_kind(kind, number):
    assert find(kind, number) is None


def test_a_number_is_found_whatever_its_case():
    lot = factories.LotFactory(number="L0001")
    assert find("lot", "l0001") == lot


def test_things_of_any_kind_are_found_by_number(django_assert_num_queries):
    lot, board = (
        factories.LotFactory(number="X-1"),
        factories.BoardFactory(number="x-1"),
    )
    factories.BoardFactory()
    assert named(["x-1 "]) == [lot, board]
    assert named(["X-1"], ["board"]) == [board]
    with django_assert_num_queries(0):
        assert named([" "]) == []


def test_rows_about_several_things(django_assert_num_queries):
    board, lot = factories.BoardFactory(), factories.LotFactory()
    mine = [
        factories.ReadingFactory(propeller=None, board=board),
        factories.ReadingFactory(propeller=None, lot=lot),
    ]
    factories.ReadingFactory()
    readings = Reading.objects.filter(about({"board": [board.pk], "lot": [lot.pk]}))
    with django_assert_num_queries(1):
        assert list(readings.order_by("pk")) == mine
    assert not Reading.objects.filter(about({})).exists()
