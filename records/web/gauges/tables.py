"""Lists of gauges."""

from typing import Any, ClassVar

import django_filters
import django_tables2
from django.db.models import Q, QuerySet
from django_tables2 import A

from records.models import Gauge
from records.queries.gauges.register import STATUSES
from records.spelling.quantities import in_unit
from records.web.shared.columns import DayColumn
from records.web.shared.tables import ShopTable


class GaugeFilter(django_filters.FilterSet):
    """Find gauges by number or name, and by how they stand."""

    text = django_filters.CharFilter(label="Number or name", method="by_text")
    status = django_filters.ChoiceFilter(
        label="Status", choices=[(status, status) for status in STATUSES]
    )

    class Meta:
        model = Gauge
        fields: ClassVar[tuple[str, ...]] = ("text", "status")

    def by_text(
        self, gauges: QuerySet[Gauge], _name: str, text: str
    ) -> QuerySet[Gauge]:
        """Look for a text in number, name and maker's serial."""
        return gauges.filter(
            Q(number__icontains=text)
            | Q(name__icontains=text)
            | Q(maker_serial__icontains=text)
        )


class GaugeTable(ShopTable):
    """Gauges, the soonest due first."""

    number = django_tables2.Column(
        verbose_name="Gauge", linkify=("gauges:gauge", {"number": A("number")})
    )
    name = django_tables2.Column(verbose_name="What it is")
    reads = django_tables2.Column(
        accessor="unit", verbose_name="Reads", order_by=("unit", "range_low")
    )
    status = django_tables2.Column()
    due_on = DayColumn(verbose_name="Due on", default="never calibrated")

    class Meta(ShopTable.Meta):
        model = Gauge
        fields: ClassVar[tuple[str, ...]] = (
            "number",
            "name",
            "reads",
            "status",
            "due_on",
        )

    def render_reads(self, record: Any) -> str:
        """Spell the range."""
        low, high = record.range_low, record.range_high
        return f"{in_unit(low, record.unit)} to {in_unit(high, record.unit)}"
