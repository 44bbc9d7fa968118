"""Every form: refused at its field with all that was typed, saved once, or not."""

import uuid

import pytest
from django.db import OperationalError

from records.models import LedgerEntry, Person
from records.services.people import accounts as people
from records.web.shared.writing import BUSY
from tests import factories

URL = "/people/add/"
GIVEN = {
    "login": "ben",
    "name": "Ben Ash",
    "role": "maker",
    "password": "a long bench password",
}


@pytest.fixture
def given():
    return GIVEN | {"form_key": str(uuid.uuid4())}


def test_a_good_form_is_saved_and_leads_on(signed_in, given):
    response = signed_in.post(URL, given, follow=True)
    assert response.redirect_chain == [("/people/at/ben/", 302)]
    assert "Ben Ash can sign in" in response.content.decode()


def test_an_invalid_form_keeps_what_was_typed(signed_in, given):
    response = signed_in.post(URL, given | {"role": "king"})
    html = response.content.decode()
    assert response.status_code == 422
    assert 'value="Ben Ash"' in html
    assert "Choose one of the list." in html
    assert given["form_key"] in html
    assert not Person.objects.filter(login="ben").exists()


def test_a_refusal_stands_at_its_field(signed_in, given):
    factories.PersonFactory(login="ben")
    response = signed_in.post(URL, given)
    assert response.status_code == 422
    assert "is taken" in str(response.context["form"].errors["login"])
    assert 'value="Ben Ash"' in response.content.decode()


def test_a_secret_is_never_shown_again(signed_in, given):
    response = signed_in.post(URL, given | {"role": "king"})
    assert given["password"] not in response.content.decode()


def test_the_same_form_twice_is_saved_once_and_leads_to_the_same_page(signed_in, given):
    first = signed_in.post(URL, given)
    second = signed_in.post(URL, given | {"login": "ben2"})
    assert second.url == first.url
    assert LedgerEntry.objects.count() == 1
    assert not Person.objects.filter(login="ben2").exists()
    html = signed_in.get(second.url).content.decode()
    assert "already saved" in html


def test_a_key_that_is_none_does_not_break_the_ledger(signed_in, given):
    response = signed_in.post(URL, given | {"form_key": "x" * 500})
    assert response.status_code == 422
    assert not LedgerEntry.objects.exists()


def test_a_busy_book_loses_nothing(signed_in, given, monkeypatch):
    def busy(**_):
        raise OperationalError("database is locked")

    monkeypatch.setattr(people, "add_person", busy)
    response = signed_in.post(URL, given)
    html = response.content.decode()
    assert response.status_code == 422
    assert BUSY in html
    assert 'value="Ben Ash"' in html


def test_an_empty_request_gets_a_sentence(signed_in):
    response = signed_in.post(URL)
    assert response.status_code == 422
    assert "Nothing arrived" in response.content.decode()
