"""Lists of signatures, and of attempts that were refused."""

from typing import Any, ClassVar

import django_filters
import django_tables2
from django.db.models import QuerySet
from django_tables2 import A

from records.models import RefusedSignature, SignOff
from records.queries.subjects import called
from records.spelling.moments import when
from records.web.shared.pages import page_of
from records.web.shared.tables import ShopTable


class SignOffFilter(django_filters.FilterSet):
    """Find signatures by who signed and by stage."""

    by = django_filters.CharFilter(
        label="Signed by", field_name="printed_name", lookup_expr="icontains"
    )
    stage = django_filters.CharFilter(
        label="Stage", field_name="stage__name", lookup_expr="icontains"
    )

    class Meta:
        model = SignOff
        fields: ClassVar[tuple[str, ...]] = ("by", "stage")


class SignedTable(ShopTable):
    """What lists of signatures have in common."""

    stage = django_tables2.Column(accessor="stage__name", verbose_name="Stage")
    on = django_tables2.Column(
        empty_values=(),
        verbose_name="On",
        orderable=False,
        linkify=lambda record: page_of(record.subject),
    )
    happened_at = django_tables2.Column(verbose_name="At")

    def render_on(self, record: Any) -> str:
        """Name the thing."""
        return called(record.subject)

    def render_happened_at(self, value: Any) -> str:
        """Spell the moment in the shop's zone."""
        return when(value)


class SignOffTable(SignedTable):
    """Signatures, newest first."""

    stage = django_tables2.Column(
        accessor="stage__name",
        verbose_name="Stage",
        linkify=("signoffs:signoff", {"pk": A("pk")}),
    )
    printed_name = django_tables2.Column(verbose_name="Signed by")
    check_kind = django_tables2.Column(verbose_name="Kind of check")

    class Meta(ShopTable.Meta):
        model = SignOff
        fields: ClassVar[tuple[str, ...]] = (
            "stage",
            "on",
            "printed_name",
            "check_kind",
            "happened_at",
        )


class RefusalFilter(django_filters.FilterSet):
    """Find refused attempts by who tried, and by the reason."""

    by = django_filters.CharFilter(
        label="Tried by", field_name="written_by__name", lookup_expr="icontains"
    )
    text = django_filters.CharFilter(label="Reason", method="by_text")

    class Meta:
        model = RefusedSignature
        fields: ClassVar[tuple[str, ...]] = ("by", "text")

    def by_text(
        self, rows: QuerySet[RefusedSignature], _name: str, text: str
    ) -> QuerySet[RefusedSignature]:
        """Look for a text in the reasons."""
        return rows.filter(why__icontains=text)


class RefusalTable(SignedTable):
    """Refused attempts, newest first."""

    by = django_tables2.Column(accessor="written_by__name", verbose_name="Tried by")
    why = django_tables2.Column(verbose_name="Why not", orderable=False)

    class Meta(ShopTable.Meta):
        model = RefusedSignature
        fields: ClassVar[tuple[str, ...]] = ("stage", "on", "by", "why", "happened_at")
