"""Owners, what happened in service, and notices with what became of them."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Count, Exists, OuterRef, Q, QuerySet, Subquery

from records.models import (
    Notice,
    NoticeSerial,
    NoticeStep,
    Owner,
    Ownership,
    Propeller,
    ServiceEvent,
)
from records.models.base import standing_at

Kind = NoticeStep.Kind


@dataclass(frozen=True, slots=True)
class NoticeLine:
    """A serial under a notice: its owner now, and the last step taken."""

    row: NoticeSerial
    owner: Owner | None
    steps: list[NoticeStep]

    @property
    def last(self) -> NoticeStep | None:
        """The newest step, or None where nothing was sent."""
        return self.steps[-1] if self.steps else None


def owners_listed() -> QuerySet[Owner]:
    """List owners by name; `now` counts the propellers whose last owner each is."""
    of_it = Ownership.objects.filter(propeller=OuterRef("propeller"))
    newest = of_it.order_by("-happened_at", "-pk").values("pk")[:1]
    last = Ownership.objects.filter(pk=Subquery(newest))
    counted = last.filter(owner=OuterRef("pk")).order_by().values("owner")
    count = counted.annotate(count=Count("pk")).values("count")
    return Owner.objects.annotate(now=Subquery(count)).order_by("name", "pk")


def ownerships_of(propeller: Propeller) -> list[Ownership]:
    """Give the owners of a propeller, first to last."""
    ownerships = propeller.ownerships.select_related("owner", "written_by")
    return list(ownerships.order_by("happened_at", "pk"))


def owner_now(propeller: Propeller) -> Ownership | None:
    """Find who has a propeller now."""
    ownership = propeller.ownerships.select_related("owner")
    return ownership.order_by("-happened_at", "-pk").first()


def propellers_of(owner: Owner) -> list[Ownership]:
    """Give what an owner has or had, each with its propeller."""
    ownerships = owner.ownerships.select_related("propeller__revision__design")
    return list(ownerships.order_by("-happened_at", "-pk"))


def events_of(propeller: Propeller) -> list[ServiceEvent]:
    """Give what happened to a propeller after delivery, first to last."""
    events = propeller.service_events.select_related("written_by")
    return list(events.order_by("happened_at", "pk"))


def notices_listed() -> QuerySet[Notice]:
    """List notices, newest first: serials under each, and how many are done."""
    steps = standing_at("for_serials__steps")
    done = steps & Q(for_serials__steps__kind=Kind.DONE)
    told = steps & Q(for_serials__steps__kind=Kind.ACKNOWLEDGED)
    return Notice.objects.annotate(
        under=Count("for_serials", distinct=True),
        told=Count("for_serials", told, distinct=True),
        done=Count("for_serials", done, distinct=True),
    ).order_by("-happened_at", "-pk")


def notices_in_force(propeller: Propeller) -> list[Notice]:
    """List the notices for a propeller that nothing says are done, oldest first."""
    return list(_in_force([propeller.pk]).order_by("happened_at", "pk"))


def _in_force(propellers: Iterable[int]) -> QuerySet[Notice]:
    done = NoticeStep.objects.filter(serial=OuterRef("pk"), kind=Kind.DONE)
    under = NoticeSerial.objects.filter(~Exists(done), propeller__in=propellers)
    return Notice.objects.filter(pk__in=under.values("notice"))


def lines_of(notice: Notice) -> list[NoticeLine]:
    """Give the serials of a notice with owner and steps: four queries."""
    rows = (
        NoticeSerial.objects.filter(notice=notice)
        .select_related("propeller__revision__design")
        .prefetch_related("steps__written_by")
        .order_by("propeller__serial", "pk")
    )
    owners = owners_now(row.propeller_id for row in rows)
    return [
        NoticeLine(
            row=row,
            owner=owners.get(row.propeller_id),
            steps=sorted(row.steps.all(), key=lambda s: (s.happened_at, s.pk)),
        )
        for row in rows
    ]


def owners_now(propellers: Iterable[int]) -> dict[int, Owner]:
    """Find who has each of many propellers now: one query."""
    rows = Ownership.objects.filter(propeller__in=list(propellers))
    ordered = rows.select_related("owner").order_by("happened_at", "pk")
    return {row.propeller_id: row.owner for row in ordered}
