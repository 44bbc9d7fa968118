"""Quantities on a page are spelled as the shop has chosen."""

import pytest
from django.urls import reverse

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


def test_no_shop_is_metric(client, db):
    assert client.get(reverse("people:sign_in")).status_code == 200
