"""Quantities on a page are spelled as the shop has chosen."""

from decimal import Decimal

import pytest
from django.http import HttpResponse
from django.urls import reverse

from records.spelling.quantities import length
from records.web.shared.units import UnitsMiddleware
from tests import factories
from tests.web.seen import text_of

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("first", "spelled"),
    [("metric", "190 mm (7.480 in)"), ("inch", "7.480 in (190 mm)")],
)
def test_a_board_is_as_wide_in_either(signed_in, shop, first, spelled):
    type(shop).objects.update(units_first=first)
    board = factories.BoardFactory(width_mm=190)
    page = reverse("boards:board", args=[board.number])
    assert spelled in text_of(signed_in.get(page))


def test_no_shop_is_metric(rf, db):
    spell = UnitsMiddleware(lambda _: HttpResponse(length(Decimal("25.4"))))
    assert spell(rf.get("/")).content.decode() == "25.4\xa0mm (1.000\xa0in)"
