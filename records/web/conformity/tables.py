"""Lists of conformity records."""

from typing import ClassVar

import django_filters
import django_tables2
from django.db.models import Q, QuerySet
from django_tables2 import A

from records.models import ConformityRecord
from records.spelling.moments import when
from records.web.conformity.pages import standing
from records.web.shared.tables import ShopTable


class RecordFilter(django_filters.FilterSet):
    """Find records by number, serial or model."""

    text = django_filters.CharFilter(label="Number, serial or model", method="by_text")

    class Meta:
        model = ConformityRecord
        fields: ClassVar[tuple[str, ...]] = ("text",)

    def by_text(
        self, records: QuerySet[ConformityRecord], _name: str, text: str
    ) -> QuerySet[ConformityRecord]:
        """Look for a text in number, serial and model."""
        return records.filter(
            Q(number__icontains=text)
            | Q(propeller__serial__icontains=text)
            | Q(propeller__revision__design__model__icontains=text)
        )


class RecordTable(ShopTable):
    """Records, the newest first."""

    number = django_tables2.Column(
        verbose_name="Record", linkify=("conformity:record", {"number": A("number")})
    )
    propeller = django_tables2.Column(
        verbose_name="Serial", order_by=("propeller__serial",)
    )
    model = django_tables2.Column(
        accessor="propeller__revision__design",
        order_by=("propeller__revision__design__model",),
    )
    issue = django_tables2.Column(verbose_name="Issue")
    issued_at = django_tables2.Column(verbose_name="Issued")
    signer = django_tables2.Column(verbose_name="Signed by")
    standing = django_tables2.Column(empty_values=(), orderable=False)

    class Meta(ShopTable.Meta):
        model = ConformityRecord
        fields: ClassVar[tuple[str, ...]] = (
            "number",
            "propeller",
            "model",
            "issue",
            "issued_at",
            "signer",
            "standing",
        )

    def render_issued_at(self, value: object, record: ConformityRecord) -> str:
        """Spell the moment."""
        return when(record.issued_at)

    def render_standing(self, record: ConformityRecord) -> str:
        """Say in a word whether it is in force."""
        return standing(record).word
