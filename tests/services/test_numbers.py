"""Numbers follow the shop's pattern and are never given out twice."""

import pytest
from django.db import transaction

from records.models import NumberSeries, Shop
from records.services.numbers import NUMBERED, next_number, next_numbers
from records.services.refusal import Refusal
from tests import factories

pytestmark = pytest.mark.django_db


def test_numbers_follow_one_another(shop):
    assert next_numbers("lot", factories.NOON, 3) == ["L0001", "L0002", "L0003"]
    assert next_number("lot", factories.NOON) == "L0004"


def test_a_series_begins_anew_each_year_where_the_year_is_in_it(shop):
    assert next_number("serial", factories.NOON) == "2026-001"
    assert next_number("serial", factories.NOON.replace(year=2027)) == "2027-001"
    assert next_number("serial", factories.NOON) == "2026-002"


def test_a_series_without_a_year_goes_on(shop):
    assert next_number("mix", factories.NOON) == "M0001"
    assert next_number("mix", factories.NOON.replace(year=2027)) == "M0002"


def test_a_number_given_by_hand_is_passed_over(shop):
    factories.PropellerFactory(serial="2026-001")
    factories.PropellerFactory(serial="2026-003")
    assert next_numbers("serial", factories.NOON, 2) == ["2026-002", "2026-004"]


def test_a_number_is_not_used_up_by_what_was_rolled_back(shop):
    with transaction.atomic():
        next_number("lot", factories.NOON)
        transaction.set_rollback(True)
    assert next_number("lot", factories.NOON) == "L0001"
    assert NumberSeries.objects.get().last == 1


@pytest.mark.parametrize("pattern", ["{m}", "{", "L", "{0}", "{year}"])
def test_a_pattern_that_can_not_be_filled_in_is_refused(shop, pattern):
    Shop.objects.update(lot_pattern=pattern)
    with pytest.raises(Refusal, match="can't be filled in"):
        next_number("lot", factories.NOON)


def test_every_pattern_of_the_shop_numbers_something():
    patterns = {
        f.name.removesuffix("_pattern")
        for f in Shop._meta.concrete_fields
        if f.name.endswith("_pattern")
    }
    assert patterns <= set(NUMBERED) | {"notice"}
