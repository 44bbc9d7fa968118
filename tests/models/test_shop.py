"""There is one shop, its address can be reached, and numbers have one series."""

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError

from records.models import NumberSeries, SetUpLink, Shop
from records.models.shop import ADDRESS
from tests.factories import NOON

pytestmark = pytest.mark.django_db


def test_there_is_no_second_shop(shop):
    with pytest.raises(IntegrityError, match="there_is_one_shop"):
        Shop.objects.create(id=2, name="Another")


@pytest.mark.parametrize(
    "address",
    [
        "http://localhost:8000",
        "http://shop",
        "http://shop.local:8000",
        "http://192.168.1.7",
        "http://[fd00::7]:8000",
        "https://airscrews.example/book",
    ],
)
def test_an_address_in_the_shop_or_beyond_is_taken(address):
    ADDRESS(address)


@pytest.mark.parametrize(
    "address",
    [
        "",
        "shop.local",
        "ftp://shop.local",
        "javascript:alert(1)",
        "http://",
        "http://a b",
        "http://shop/?q=1",
        "http://user@shop",
        'http://shop/"',
        "http://shop\n",
    ],
)
def test_anything_else_is_refused_with_an_example(address):
    with pytest.raises(ValidationError, match=r"http://shop\.local:8000"):
        ADDRESS(address)


def test_a_year_has_one_series_of_a_kind():
    NumberSeries.objects.create(kind="lot", year=2026)
    with pytest.raises(IntegrityError):
        NumberSeries.objects.create(kind="lot", year=2026)


def test_a_link_is_made_once():
    SetUpLink.objects.create(digest="0" * 64, made_at=NOON)
    with pytest.raises(IntegrityError):
        SetUpLink.objects.create(digest="0" * 64, made_at=NOON)
