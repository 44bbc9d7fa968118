"""Lists of owners and notices."""

from typing import ClassVar

import django_filters
import django_tables2
from django.db.models import Q, QuerySet
from django_tables2 import A

from records.models import Notice, Owner
from records.models.base import standing_at
from records.spelling.moments import when
from records.web.shared.tables import ShopTable


class OwnerFilter(django_filters.FilterSet):
    """Find owners by name, contact, or the serial of a propeller."""

    text = django_filters.CharFilter(label="Name, contact or serial", method="by_text")

    class Meta:
        model = Owner
        fields: ClassVar[tuple[str, ...]] = ("text",)

    def by_text(
        self, owners: QuerySet[Owner], _name: str, text: str
    ) -> QuerySet[Owner]:
        """Look for a text in names, contacts and serials."""
        return owners.filter(
            Q(name__icontains=text)
            | Q(contact__icontains=text)
            | standing_at("ownerships")
            & Q(ownerships__propeller__serial__icontains=text)
        ).distinct()


class OwnerTable(ShopTable):
    """Owners by name."""

    name = django_tables2.Column(linkify=("service:owner", {"pk": A("pk")}))
    contact = django_tables2.Column()
    now = django_tables2.Column(verbose_name="Propellers now", default="0")

    class Meta(ShopTable.Meta):
        model = Owner
        fields: ClassVar[tuple[str, ...]] = ("name", "contact", "now")


class NoticeTable(ShopTable):
    """Notices, the newest first."""

    number = django_tables2.Column(
        verbose_name="Notice", linkify=("service:notice", {"number": A("number")})
    )
    title = django_tables2.Column()
    do_not_fly = django_tables2.Column(verbose_name="Do not fly")
    happened_at = django_tables2.Column(verbose_name="Issued")
    under = django_tables2.Column(verbose_name="Serials")
    told = django_tables2.Column(verbose_name="Acknowledged")
    done = django_tables2.Column(verbose_name="Done")

    class Meta(ShopTable.Meta):
        model = Notice
        fields: ClassVar[tuple[str, ...]] = (
            "number",
            "title",
            "do_not_fly",
            "happened_at",
            "under",
            "told",
            "done",
        )

    def render_do_not_fly(self, *, value: bool) -> str:
        """Say it in a word."""
        return "yes" if value else "no"

    def render_happened_at(self, record: Notice) -> str:
        """Spell the moment."""
        return when(record.happened_at)
