"""Who signs shows again who they are, and nobody may try for ever."""

import datetime as dt

import pytest
from django.contrib.auth.hashers import identify_hasher
from django.db import transaction

from records.models import SignOff
from records.models.people import FailedCheck
from records.services.people.reauthenticate import (
    MOST_FAILURES,
    WINDOW,
    hash_pin,
    reauthenticate,
)
from records.services.refusal import Refusal
from shopqa import settings as wired
from tests.factories import NOON, PASSWORD, PersonFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def person():
    return PersonFactory(pin=hash_pin("4711"))


def wrong(person, at=NOON):
    with pytest.raises(Refusal) as refusal:
        reauthenticate(person, at, password="not this one")
    return refusal.value.findings[0]


def test_the_password_signs(person):
    method = reauthenticate(person, NOON, password=PASSWORD)
    assert method == SignOff.Method.PASSWORD


def test_the_pin_signs_on_a_bench_device(person):
    method = reauthenticate(person, NOON, pin="4711", device_enrolled=True)
    assert method == SignOff.Method.PIN


def test_the_pin_signs_nowhere_else_and_is_not_even_tried(person):
    with pytest.raises(Refusal, match="bench devices only"):
        reauthenticate(person, NOON, pin="4711")
    assert not FailedCheck.objects.exists()


@pytest.mark.parametrize(
    ("given", "field"),
    [({}, "password"), ({"pin": "4711", "device_enrolled": True}, "pin")],
)
def test_nothing_entered_and_no_pin_set_are_refused_at_their_field(given, field):
    with pytest.raises(Refusal) as refusal:
        reauthenticate(PersonFactory(), NOON, **given)
    assert refusal.value.findings[0].field == field


def test_somebody_who_left_signs_nothing(person):
    person.is_active = False
    with pytest.raises(Refusal, match="may not sign in"):
        reauthenticate(person, NOON, password=PASSWORD)


def test_a_wrong_try_says_how_many_are_left(person):
    assert "4 tries are left" in wrong(person).sentence
    assert wrong(person).field == "password"


def test_after_five_wrong_tries_even_the_right_password_waits(person):
    for _ in range(MOST_FAILURES):
        last = wrong(person)
    assert "last try" in last.sentence
    with pytest.raises(Refusal, match="Wait 15 minutes"):
        reauthenticate(person, NOON + dt.timedelta(minutes=14), password=PASSWORD)
    later = NOON + WINDOW + dt.timedelta(seconds=1)
    assert reauthenticate(person, later, password=PASSWORD)


def test_a_right_password_forgets_the_wrong_ones(person):
    for _ in range(MOST_FAILURES - 1):
        wrong(person)
    reauthenticate(person, NOON, password=PASSWORD)
    assert "4 tries are left" in wrong(person).sentence


def test_wrong_tries_of_one_person_do_not_lock_another(person):
    for _ in range(MOST_FAILURES):
        wrong(person)
    assert reauthenticate(PersonFactory(), NOON, password=PASSWORD)


@pytest.mark.django_db(transaction=True)
def test_a_wrong_try_stays_counted_when_the_signing_rolls_back(person):
    wrong(person)
    with pytest.raises(ZeroDivisionError), transaction.atomic():
        raise ZeroDivisionError
    assert FailedCheck.objects.count() == 1


@pytest.mark.parametrize(
    "pin", ["123", "123456789", "12a4", "", "\uff11\uff12\uff13\uff15"]
)
def test_a_pin_has_4_to_8_digits(pin):
    with pytest.raises(Refusal, match="4 to 8 digits"):
        hash_pin(pin)


@pytest.mark.parametrize("pin", ["1111", "1234", "9876", "7890", "00000000"])
def test_a_pin_that_is_a_row_of_digits_is_refused(pin):
    with pytest.raises(Refusal, match="no row of digits"):
        hash_pin(pin)


def test_a_pin_is_kept_as_argon2(settings):
    settings.PASSWORD_HASHERS = wired.PASSWORD_HASHERS
    assert identify_hasher(hash_pin("2580")).algorithm == "argon2"
