"""Who works here, who may decide what, and on which devices a PIN counts."""

import datetime as dt
import hashlib

from django.db.models import Prefetch, QuerySet

from records.models import Authority, Person, SetUpLink
from records.models.people import BenchDevice

LINK_LASTS = dt.timedelta(days=1)


def who_works_here(day: dt.date) -> QuerySet[Person]:
    """List everybody, each with the authorities in force that day, and no others."""
    in_force = Prefetch("authorities", Authority.objects.on(day).order_by("act", "pk"))
    return Person.objects.prefetch_related(in_force).order_by("name", "pk")


def what_may(person: Person, day: dt.date) -> set[str]:
    """Name the acts that a person may do on a day (one query)."""
    if not person.is_active or person.role == Person.Role.READER:
        return set()
    mine = Authority.objects.on(day).filter(person=person)
    return set(mine.values_list("act", flat=True))


def who_else_manages(person: Person, day: dt.date) -> QuerySet[Person]:
    """Find the others who may manage people on a day and after it."""
    return (
        Person.objects.filter(
            is_active=True,
            authorities__act=Authority.Act.MANAGE,
            authorities__from_on__lte=day,
            authorities__until_on__isnull=True,
        )
        .exclude(role=Person.Role.READER)
        .exclude(pk=person.pk)
    )


def anybody_works_here() -> bool:
    """Tell whether the shop has its first person yet."""
    return Person.objects.exists()


def open_link(token: str, at: dt.datetime) -> QuerySet[SetUpLink]:
    """Find the set-up link of a token, if it may still be used."""
    return SetUpLink.objects.filter(
        digest=digest_of(token), used_at__isnull=True, made_at__gte=at - LINK_LASTS
    )


def bench_devices() -> QuerySet[BenchDevice]:
    """List the devices on which a PIN counts."""
    return (
        BenchDevice.objects.filter(ended_at__isnull=True)
        .select_related("written_by")
        .order_by("name", "pk")
    )


def bench_device(token: str) -> BenchDevice | None:
    """Find the device of a token, while a PIN counts there."""
    return bench_devices().filter(digest=digest_of(token)).first() if token else None


def digest_of(token: str) -> str:
    """Give the digest under which a token is kept."""
    return hashlib.sha256(token.encode()).hexdigest()
