"""Lists of readings."""

from typing import Any, ClassVar

import django_filters
import django_tables2
from django.db.models import Q, QuerySet
from django.template.loader import render_to_string
from django_tables2 import A

from records.models import Reading
from records.queries.subjects import called
from records.spelling.moments import when
from records.spelling.units import unit_name
from records.web.shared.pages import page_of
from records.web.shared.tables import ShopTable

STANDING = (("standing", "that count"), ("replaced", "corrected or withdrawn"))


class ReadingFilter(django_filters.FilterSet):
    """Find readings by what was read, on what, and how they were judged."""

    text = django_filters.CharFilter(label="What was read", method="by_text")
    gauge = django_filters.CharFilter(
        label="Gauge", field_name="gauge__number", lookup_expr="iexact"
    )
    verdict = django_filters.ChoiceFilter(
        label="Verdict", choices=Reading.Verdict.choices[:4]
    )
    rows = django_filters.ChoiceFilter(
        label="Rows", choices=STANDING, method="by_standing"
    )

    class Meta:
        model = Reading
        fields: ClassVar[tuple[str, ...]] = ("text", "gauge", "verdict", "rows")

    def by_text(
        self, rows: QuerySet[Reading], _name: str, text: str
    ) -> QuerySet[Reading]:
        """Look for a text in the name of what was read, and of its stage."""
        return rows.filter(
            Q(characteristic__name__icontains=text)
            | Q(characteristic__stage__name__icontains=text)
        )

    def by_standing(
        self, rows: QuerySet[Reading], _name: str, answer: str
    ) -> QuerySet[Reading]:
        """Keep the rows that count, or those that don't any more."""
        gone = Q(corrected_by__isnull=False) | Q(verdict=Reading.Verdict.WITHDRAWN)
        return rows.exclude(gone) if answer == "standing" else rows.filter(gone)


class ReadingTable(ShopTable):
    """Readings, newest first."""

    what = django_tables2.Column(
        accessor="characteristic__name",
        verbose_name="Read",
        linkify=("readings:reading", {"pk": A("pk")}),
    )
    on = django_tables2.Column(
        empty_values=(),
        verbose_name="On",
        orderable=False,
        linkify=lambda record: page_of(record.subject),
    )
    figure = django_tables2.Column(accessor="entered", verbose_name="Figure")
    verdict = django_tables2.Column()
    gauge = django_tables2.Column(
        accessor="gauge__number", order_by=("gauge__number",), verbose_name="Gauge"
    )
    happened_at = django_tables2.Column(verbose_name="Read at")
    by = django_tables2.Column(accessor="written_by__name", verbose_name="By")

    class Meta(ShopTable.Meta):
        model = Reading
        fields: ClassVar[tuple[str, ...]] = (
            "what",
            "on",
            "figure",
            "verdict",
            "gauge",
            "happened_at",
            "by",
        )

    def render_on(self, record: Reading) -> str:
        """Name the thing."""
        return called(record.subject)

    def render_figure(self, record: Reading) -> str:
        """Spell the figure as it was entered, with its unit."""
        return f"{record.entered} {unit_name(record.unit)}".strip()

    def render_verdict(self, record: Reading) -> str:
        """Draw the verdict; struck out where a later row replaced it."""
        gone = hasattr(record, "corrected_by") or record.is_withdrawn
        word = "corrected" if hasattr(record, "corrected_by") else ""
        context = {
            "verdict": "void" if gone else record.verdict,
            "word": word or record.get_verdict_display(),
        }
        return render_to_string("parts/verdict.html", context)

    def value_verdict(self, record: Reading) -> str:
        """Name the verdict for an export."""
        return str(record.get_verdict_display())

    def render_happened_at(self, value: Any) -> str:
        """Spell the moment in the shop's zone."""
        return when(value)
