"""What the shop does with people: set up, add, change, give authority, stop."""

import datetime as dt
import re
import secrets

from django.contrib.auth.hashers import make_password
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from records.models import Authority, Person, SetUpLink, Shop
from records.models.people import BenchDevice
from records.queries.people import (
    anybody_works_here,
    digest_of,
    open_link,
    who_else_manages,
)
from records.rules.authority import may
from records.rules.finding import Finding
from records.services.ledger import Act, Entry
from records.services.people.reauthenticate import hash_pin, reauthenticate
from records.services.refusal import Refusal, refuse, refuse_if_blocked

LOGIN = re.compile(r"[a-z0-9](?:[a-z0-9._-]{0,38}[a-z0-9])?")


@transaction.atomic
def make_set_up_link(at: dt.datetime) -> str:
    """Make a one-time link's token for the first owner's account, good for a day.

    Only its digest is kept; a link made before and not used stops working.
    """
    if anybody_works_here():
        raise refuse("This shop is set up already: its owner adds people.")
    SetUpLink.objects.filter(used_at__isnull=True).delete()
    token = secrets.token_urlsafe(24)
    SetUpLink.objects.create(digest=digest_of(token), made_at=at)
    return token


def set_up_shop(
    *,
    token: str,
    at: dt.datetime,
    shop_name: str,
    base_url: str,
    name: str,
    login: str,
    password: str,
    place: str = "",
) -> Person:
    """Open the book: the shop's row, and its first owner with every authority."""
    person = Person(login=_plain(login), name=name, role=Person.Role.OWNER)
    person.password = _hash(person, password)
    with Entry(Act(by=person, at=at), "set up shop") as entry:
        entry.subject = shop_name
        link = open_link(token, at).select_for_update().first()
        if link is None or anybody_works_here():
            raise refuse(
                "This link has been used or is too old. Start the program again: "
                "while nobody has an account it prints a new one."
            )
        url = base_url.rstrip("/")
        entry.add(Shop(name=shop_name, place=place, base_url=url))
        entry.add(person)
        today = timezone.localdate(at)
        for deed in Authority.Act:
            entry.add(Authority(person=person, act=deed, from_on=today))
        entry.change(link, used_at=at)
    return person


def add_person(
    *, act: Act, login: str, name: str, role: Person.Role, password: str
) -> Person:
    """Give somebody an account; authority comes separately."""
    person = Person(login=_plain(login), name=name, role=role)
    person.password = _hash(person, password)
    with _managing(act, "add person", person.login) as entry:
        if Person.objects.filter(login=person.login).exists():
            raise refuse(
                f'The name "{person.login}" is taken, perhaps by somebody who has '
                "left. Choose another.",
                "login",
            )
        return entry.add(person)


def change_person(*, act: Act, person: Person, name: str, role: Person.Role) -> Person:
    """Change a printed name or a role; signatures keep the name they were made with."""
    with _managing(act, "change person", person.login) as entry:
        if role == Person.Role.READER:
            _keep_a_manager(person, act, "role")
        return entry.change(person, name=name, role=role)


def stop_person(*, act: Act, person: Person) -> Person:
    """Close somebody's account; the name stays on what was signed."""
    with _managing(act, "stop person", person.login) as entry:
        _keep_a_manager(person, act)
        return entry.change(person, is_active=False)


def readmit_person(*, act: Act, person: Person) -> Person:
    """Open a closed account again."""
    with _managing(act, "readmit person", person.login) as entry:
        return entry.change(person, is_active=True)


def reset_password(*, act: Act, person: Person, password: str) -> Person:
    """Give somebody a new password, to be changed by its owner; the PIN ends."""
    hashed = _hash(person, password)
    with _managing(act, "reset password", person.login) as entry:
        person.failed_checks.all().delete()
        return entry.change(person, password=hashed, pin="")


def change_password(*, act: Act, current: str, password: str) -> Person:
    """Change one's own password."""
    _check_current(act, current)
    hashed = _hash(act.by, password)
    with Entry(act, "change password") as entry:
        entry.subject = act.by.login
        return entry.change(act.by, password=hashed)


def set_pin(*, act: Act, current: str, pin: str) -> Person:
    """Choose one's own PIN for the bench."""
    hashed = hash_pin(pin)
    _check_current(act, current)
    with Entry(act, "set PIN") as entry:
        entry.subject = act.by.login
        return entry.change(act.by, pin=hashed)


def grant_authority(
    *,
    act: Act,
    person: Person,
    deed: Authority.Act,
    from_on: dt.date,
    until_on: dt.date | None = None,
) -> Authority:
    """Let somebody decide something, from a day until a day or until ended."""
    with _managing(act, "grant authority", person.login) as entry:
        if person.role == Person.Role.READER:
            raise refuse(f"{person.name} is a reader: change the role first.")
        given = Authority.objects.filter(person=person, act=deed).on(from_on)
        if given.exists():
            raise refuse(
                f"{person.name} has this authority on that day already. "
                "End it first, or begin later.",
                "from_on",
            )
        return entry.add(
            Authority(person=person, act=deed, from_on=from_on, until_on=until_on)
        )


def end_authority(*, act: Act, authority: Authority, until_on: dt.date) -> Authority:
    """End an authority after a day: today, or a day to come."""
    with _managing(act, "end authority", authority.person.login) as entry:
        if until_on < timezone.localdate(act.at):
            raise refuse(
                "What was decided in the past stays decided: "
                "choose today or a later day.",
                "until_on",
            )
        if authority.until_on and authority.until_on < timezone.localdate(act.at):
            raise refuse("This authority has ended already.")
        if until_on < authority.from_on:
            raise refuse(
                "It ends before it begins: choose its first day or a later one.",
                "until_on",
            )
        if authority.act == Authority.Act.MANAGE:
            _keep_a_manager(authority.person, act)
        return entry.change(authority, until_on=until_on)


def enrol_device(*, act: Act, name: str) -> tuple[BenchDevice, str]:
    """Let PINs count on a device; gives the token that the device must keep."""
    token = secrets.token_urlsafe(24)
    with _managing(act, "enrol bench device", name) as entry:
        device = entry.add(BenchDevice(name=name, digest=digest_of(token)))
    return device, token


def end_device(*, act: Act, device: BenchDevice) -> BenchDevice:
    """Let no PIN count on a device any more: it was lost, or serves elsewhere."""
    with _managing(act, "end bench device", device.name) as entry:
        return entry.change(device, ended_at=act.at)


def _managing(act: Act, verb: str, subject: str) -> Entry:
    """Open an entry for somebody who manages people, or refuse."""
    day = timezone.localdate(act.at)
    refuse_if_blocked(may(act.by, Authority.Act.MANAGE, day))
    entry = Entry(act, verb)
    entry.subject = subject
    return entry


def _keep_a_manager(person: Person, act: Act, field: str = "") -> None:
    day = timezone.localdate(act.at)
    if may(person, Authority.Act.MANAGE, day):
        return
    if not who_else_manages(person, day).exists():
        raise refuse(
            f"{person.name} is the only one who manages people. "
            "Give that authority to somebody else first, without an end.",
            field,
        )


def _check_current(act: Act, current: str) -> None:
    try:
        reauthenticate(act.by, act.at, password=current)
    except Refusal as refusal:
        findings = (Finding(f.sentence, "current") for f in refusal.findings)
        raise Refusal(findings) from refusal


def _hash(person: Person, password: str) -> str:
    try:
        validate_password(password, person)
    except ValidationError as error:
        raise Refusal(Finding(m, "password") for m in error.messages) from error
    return make_password(password)


def _plain(login: str) -> str:
    plain = login.strip().lower()
    if not LOGIN.fullmatch(plain):
        raise refuse(
            "A sign-in name has 1 to 40 of a to z, 0 to 9, and . - _ between them.",
            "login",
        )
    return plain
