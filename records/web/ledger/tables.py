"""The list of the ledger's entries."""

from typing import ClassVar

import django_filters
import django_tables2
from django_tables2 import A

from records.models import LedgerEntry, Person
from records.queries.ledger import verbs
from records.web.shared.columns import MomentColumn
from records.web.shared.tables import ShopTable


def _choices() -> list[tuple[str, str]]:
    return [(verb, verb) for verb in verbs()]


class EntryFilter(django_filters.FilterSet):
    """Find entries by what was done, to what, by whom, and when."""

    verb = django_filters.ChoiceFilter(label="What was done", choices=_choices)
    subject = django_filters.CharFilter(
        label="To what: a number or serial", lookup_expr="icontains"
    )
    person = django_filters.ModelChoiceFilter(
        label="By whom", field_name="written_by", queryset=Person.objects.all()
    )
    since = django_filters.DateFilter(
        label="From (first day, as 2026-03-04)",
        field_name="written_at",
        lookup_expr="date__gte",
    )
    until = django_filters.DateFilter(
        label="Until (last day)", field_name="written_at", lookup_expr="date__lte"
    )

    class Meta:
        model = LedgerEntry
        fields: ClassVar[tuple[str, ...]] = (
            "verb",
            "subject",
            "person",
            "since",
            "until",
        )


class EntryTable(ShopTable):
    """Entries, the newest first."""

    sequence = django_tables2.Column(
        verbose_name="Entry", linkify=("ledger:entry", {"sequence": A("sequence")})
    )
    written_at = MomentColumn(verbose_name="Written")
    verb = django_tables2.Column(verbose_name="What was done")
    subject = django_tables2.Column(verbose_name="To what")
    written_by = django_tables2.Column(
        verbose_name="By whom", order_by=("written_by__name",)
    )
    digest = django_tables2.Column(verbose_name="Digest")

    class Meta(ShopTable.Meta):
        model = LedgerEntry
        fields: ClassVar[tuple[str, ...]] = (
            "sequence",
            "written_at",
            "verb",
            "subject",
            "written_by",
            "digest",
        )

    def render_digest(self, value: str) -> str:
        """Shorten the digest on the page; the export has it whole."""
        return f"{value[:12]}…"

    def value_digest(self, value: str) -> str:
        """Give the whole digest."""
        return value
