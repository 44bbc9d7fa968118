"""Every address, asked as no screen of the shop's asks: no error, no changed row."""

import pytest
from django.db import transaction

from tests.hostile import book
from tests.hostile.driver import ROLES, Visitor, hostile_paths, query
from tests.hostile.effort import some
from tests.hostile.names import query_names
from tests.hostile.requests import (
    Sent,
    every_method,
    strange_bodies,
    strange_headers,
)
from tests.hostile.strings import STRINGS
from tests.hostile.world import keep_a_photo, world
from tests.web.addresses import addresses

# These draw a PDF each time, which takes a second or two.
DRAWN = {"conformity:build_record", "deviations:report", "tags:card_pdf"}
ADDRESSES = [a for a in addresses() if a.name not in DRAWN]
NAMES = query_names()
GET = Sent("", method="GET")
# How many of each are tried at an address, by who asks; HOSTILE_EXAMPLES multiplies.
SHARE = {None: 1, "reader": 1, "owner": 3}


@pytest.fixture(scope="module")
def shop_with_everything(django_db_setup, django_db_blocker):
    """Make the shop once for this module, and take it out again."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield world()
        transaction.set_rollback(True)


@pytest.fixture
def made(shop_with_everything, db):
    """Give the shop, with a photo that lies in this test's own folder."""
    act, thing = shop_with_everything["act"], shop_with_everything["begun"]
    return shop_with_everything | {"files:file.pk": keep_a_photo(act, thing)}


@pytest.fixture(params=ROLES, ids=lambda role: role or "nobody")
def visitor(request, made):
    """Somebody or nobody, who leaves the book as it was and breaks nothing."""
    visitor = Visitor(request.param)
    before = book.fingerprint()
    yield visitor
    assert visitor.wrong == {}, visitor.report()
    assert book.fingerprint() == before


@pytest.fixture
def everywhere(visitor, made):
    """Give each address with a part of what is tried: another part at each."""

    def turns(tried, share=SHARE[visitor.role]):
        for turn, address in enumerate(ADDRESSES):
            for one in some(tried, turn, share):
                yield address, one

    return turns


def test_the_names_that_pages_read_are_found():
    assert {"next", "kind", "number", "characteristic", "form_key"} <= set(NAMES)


def test_strange_methods(visitor, made, everywhere):
    for address, sent in everywhere(every_method()):
        visitor.send(address.path(made), sent)


def test_strange_bodies(visitor, made, everywhere):
    confirmed = visitor.role == "owner"  # some pages ask for nothing but a press
    for address, sent in everywhere(strange_bodies()):
        visitor.send(address.path(made), sent, may_write=confirmed)


def test_strange_headers_and_cookies(visitor, made, everywhere):
    for address, sent in everywhere(strange_headers(), share=1):
        visitor.send(address.path(made), sent, may_write=visitor.role == "owner")


def test_hostile_paths(visitor, made, everywhere):
    for address, text in everywhere(STRINGS):
        for path in hostile_paths(address, made, [text]):
            visitor.send(path, GET)
            visitor.send(path, Sent("", body=b"form_key=x"))


def test_hostile_queries(visitor, made, everywhere):
    for address, text in everywhere(STRINGS):
        visitor.send(f"{address.path(made)}?{query(NAMES, text)}", GET)


def test_hostile_exports(visitor, made, everywhere):
    for address, text in everywhere(STRINGS, share=1):
        asked = f"{query(NAMES, text)}&export=csv"
        visitor.send(f"{address.path(made)}?{asked}", GET)
