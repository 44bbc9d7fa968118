"""The shop's settings: who may change them, and what they may be."""

import json

import pytest

from records.models import LedgerEntry, Shop
from records.services.ledger import Act
from records.services.refusal import Refusal
from records.services.shop import PATTERNS, change_shop
from tests import factories

pytestmark = pytest.mark.django_db


def test_changes_settings_and_keeps_them_in_the_ledger(act):
    change_shop(act=act, name="New name", base_url="https://airscrews.example/")
    shop = Shop.objects.get()
    assert (shop.name, shop.base_url) == ("New name", "https://airscrews.example")
    body = json.loads(LedgerEntry.objects.get().body)
    assert body["rows"][0]["fields"]["name"] == "New name"


def test_only_whoever_manages_may(shop):
    with pytest.raises(Refusal, match="no authority"):
        change_shop(act=Act(factories.PersonFactory(), factories.NOON), name="Mine")
    assert Shop.objects.get().name == shop.name


def test_every_number_has_its_pattern():
    assert len(PATTERNS) == 9


@pytest.mark.parametrize(
    "pattern", ["{n}", "{year}-{n:03}", "L{n:04}", "L {year}.{n:04}-b"]
)
def test_a_pattern_gives_numbers(act, pattern):
    assert change_shop(act=act, lot_pattern=pattern).lot_pattern == pattern


@pytest.mark.parametrize(
    "pattern",
    ["", "L", "{n}{n}", "{n:x}", "{n.real}", "{0}", "{n:99999}", "{n", "{m}", "{year}"],
)
def test_a_pattern_without_one_number_is_refused_at_its_field(act, pattern):
    with pytest.raises(Refusal) as refusal:
        change_shop(act=act, lot_pattern=pattern)
    assert [f.field for f in refusal.value.findings] == ["lot_pattern"]


@pytest.mark.parametrize("pattern", ["L/{n:04}", "{n}\n", "..{n}..", "{n}?"])
def test_a_pattern_whose_numbers_lead_nowhere_is_refused(act, pattern):
    with pytest.raises(Refusal, match="stamped and scanned"):
        change_shop(act=act, lot_pattern=pattern)


def test_everything_wrong_is_said_at_once(act):
    with pytest.raises(Refusal) as refusal:
        change_shop(act=act, lot_pattern="", mix_pattern="")
    assert len(refusal.value.findings) == 2


def test_an_address_that_is_none_is_refused(act):
    with pytest.raises(Refusal) as refusal:
        change_shop(act=act, base_url="javascript:alert(1)")
    assert refusal.value.findings[0].field == "base_url"


@pytest.mark.parametrize(
    "address",
    [
        "http://shop:8000",
        "http://192.168.1.7:8000",
        "http://[fd00::7]:8000",
        "https://airscrews.example/book",
    ],
)
def test_an_address_of_the_shops_own_network_is_one(act, address):
    assert change_shop(act=act, base_url=address).base_url == address
