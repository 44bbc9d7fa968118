"""People: who may sign in, and who may decide what, from when until when."""

import datetime as dt
from typing import ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models import F, Q

from records.models.base import Thing


class PersonManager(BaseUserManager["Person"]):
    """Finds a person by login, whatever the case."""

    def get_by_natural_key(self, username: str | None) -> "Person":
        """Find a person by login."""
        return self.get(login__iexact=username)


class Person(AbstractBaseUser):
    """Somebody who works with the book. Never deleted: signatures point here."""

    class Role(models.TextChoices):
        OWNER = "owner", "Owner"
        MAKER = "maker", "Maker"
        INSPECTOR = "inspector", "Inspector"
        READER = "reader", "Reader"

    login = models.CharField(max_length=40, unique=True)
    name = models.CharField("printed name", max_length=80)
    role = models.CharField(max_length=12, choices=Role, default=Role.MAKER)
    pin = models.CharField(max_length=128, blank=True, editable=False)
    is_active = models.BooleanField("may sign in", default=True)

    objects = PersonManager()

    USERNAME_FIELD = "login"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        ordering = ["name", "pk"]

    def __str__(self) -> str:
        return self.name


class AuthorityQuerySet(models.QuerySet["Authority"]):
    """Authorities, by date."""

    def on(self, day: dt.date) -> "AuthorityQuerySet":
        """Keep those in force on a day, first and last day included."""
        return self.filter(
            Q(until_on__isnull=True) | Q(until_on__gte=day), from_on__lte=day
        )


class Authority(Thing):
    """What a person may decide, from a day until a day."""

    class Act(models.TextChoices):
        SIGN = "sign", "sign off stages"
        ACCEPT = "accept", "accept lots and boards"
        DISPOSE = "dispose", "dispose of deviations"
        RELEASE = "release", "release propellers and issue conformity records"
        MANAGE = "manage", "change limits, routes, designs, gauges and people"

    state_fields: ClassVar[tuple[str, ...]] = ("until_on",)

    person = models.ForeignKey(Person, models.PROTECT, related_name="authorities")
    act = models.CharField("may", max_length=10, choices=Act)
    from_on = models.DateField("from")
    until_on = models.DateField("until (last day)", null=True, blank=True)

    objects = AuthorityQuerySet.as_manager()

    class Meta:
        ordering = ["person", "act", "from_on", "pk"]
        verbose_name_plural = "authorities"
        constraints = [
            models.CheckConstraint(
                condition=Q(until_on__isnull=True) | Q(until_on__gte=F("from_on")),
                name="authority_ends_after_it_begins",
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_act_display()} from {self.from_on}"


class BenchDevice(Thing):
    """A tablet or telephone of the shop on which a PIN counts; the digest is kept."""

    state_fields: ClassVar[tuple[str, ...]] = ("ended_at",)

    name = models.CharField(max_length=60)
    digest = models.CharField(max_length=64, unique=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["name", "pk"]

    def __str__(self) -> str:
        return self.name


class FailedCheck(models.Model):
    """A password or PIN entered wrongly at signing: too many close the door."""

    person = models.ForeignKey(Person, models.PROTECT, related_name="failed_checks")
    at = models.DateTimeField()

    class Meta:
        ordering = ["at", "pk"]

    def __str__(self) -> str:
        return f"wrong check at {self.at}"
