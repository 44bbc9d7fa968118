"""Who signs shows again who they are: password, or PIN at an enrolled device."""

import datetime as dt
import re
from itertools import pairwise

from django.contrib.auth.hashers import check_password, make_password
from django.db import transaction

from records.models import Person, SignOff
from records.models.people import FailedCheck
from records.services.refusal import refuse

MOST_FAILURES = 5
WINDOW = dt.timedelta(minutes=15)
PIN = re.compile(r"[0-9]{4,8}")


def reauthenticate(
    person: Person,
    at: dt.datetime,
    *,
    password: str = "",
    pin: str = "",
    device_enrolled: bool = False,
) -> SignOff.Method:
    """Check a person's password or PIN again, and say which one it was.

    Call it before the transaction that it guards: a wrong try must stay counted when
    that transaction rolls back. Five wrong tries close the door for a quarter of an
    hour. Raises `Refusal` at the field "password" or "pin".
    """
    if not person.is_active:
        raise refuse(f"{person.name} may not sign in any more.")
    if password:
        _try(person, at, password, person.password, "password")
        return SignOff.Method.PASSWORD
    if not pin:
        raise refuse("Enter your password again.", "password")
    if not device_enrolled:
        raise refuse(
            "A PIN counts on the shop's own bench devices only. "
            "Enter your password here.",
            "pin",
        )
    if not person.pin:
        raise refuse("You have no PIN yet. Enter your password.", "pin")
    _try(person, at, pin, person.pin, "pin")
    return SignOff.Method.PIN


def hash_pin(pin: str) -> str:
    """Give the hash of a PIN to keep, or refuse one that is easily guessed."""
    if not PIN.fullmatch(pin):
        raise refuse("A PIN has 4 to 8 digits.", "pin")
    steps = {(int(b) - int(a)) % 10 for a, b in pairwise(pin)}
    if len(steps) == 1 and steps <= {0, 1, 9}:
        raise refuse("Choose a PIN that is no row of digits such as 1234.", "pin")
    return make_password(pin)


def _try(person: Person, at: dt.datetime, secret: str, stored: str, field: str) -> None:
    """Count the try as failed first, so that tries at the same moment count too."""
    name = "PIN" if field == "pin" else "password"
    with transaction.atomic():
        Person.objects.select_for_update().get(pk=person.pk)
        left = _tries_left(person, at, field)
        FailedCheck.objects.create(person=person, at=at)
    if not check_password(secret, stored):
        more = f"{left} tries are left." if left > 1 else "One try is left."
        more = more if left else "That was the last try for a quarter of an hour."
        raise refuse(f"This {name} is not right. {more}", field)
    FailedCheck.objects.filter(person=person).delete()


def _tries_left(person: Person, at: dt.datetime, field: str) -> int:
    failed = person.failed_checks.filter(at__gt=at - WINDOW).count()
    if failed >= MOST_FAILURES:
        raise refuse(
            f"Too many wrong tries. Wait {WINDOW.seconds // 60} minutes, "
            "or ask whoever manages people for a new password.",
            field,
        )
    return MOST_FAILURES - failed - 1
