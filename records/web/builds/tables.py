"""Lists of blanks and propellers."""

from typing import Any, ClassVar

import django_filters
import django_tables2
from django.db.models import Q, QuerySet
from django_tables2 import A

from records.models import Blank, Design, Propeller
from records.web.shared.columns import MomentColumn
from records.web.shared.tables import ShopTable


class BlankFilter(django_filters.FilterSet):
    """Find blanks by number, design or state."""

    text = django_filters.CharFilter(label="Number", method="by_text")
    design = django_filters.ModelChoiceFilter(
        label="Design", field_name="revision__design", queryset=Design.objects.all()
    )
    state = django_filters.ChoiceFilter(label="State", choices=Blank.State)

    class Meta:
        model = Blank
        fields: ClassVar[tuple[str, ...]] = ("text", "design", "state")

    def by_text(
        self, blanks: QuerySet[Blank], _name: str, text: str
    ) -> QuerySet[Blank]:
        """Look for a text in the numbers of a blank and its propellers."""
        condition = Q(number__icontains=text) | Q(propellers__serial__icontains=text)
        keys = Blank.objects.filter(condition).order_by().values("pk")
        return blanks.filter(pk__in=keys)


class BlankTable(ShopTable):
    """Blanks, the last planned first."""

    number = django_tables2.Column(
        verbose_name="Blank", linkify=("builds:blank", {"number": A("number")})
    )
    design = django_tables2.Column(
        accessor="revision__design", order_by=("revision__design__model",)
    )
    revision = django_tables2.Column(
        accessor="revision__number", verbose_name="Revision"
    )
    state = django_tables2.Column()
    laid = django_tables2.Column(verbose_name="Laminations")
    made = django_tables2.Column(verbose_name="Propellers")
    written_at = MomentColumn(verbose_name="Planned")

    class Meta(ShopTable.Meta):
        model = Blank
        fields: ClassVar[tuple[str, ...]] = (
            "number",
            "design",
            "revision",
            "state",
            "laid",
            "made",
            "written_at",
        )

    def render_laid(self, record: Any, value: int) -> str:
        """Say how many of how many."""
        return f"{value} of {record.revision.laminations}"

    def value_laid(self, value: int) -> int:
        """Export the count."""
        return value


class PropellerFilter(django_filters.FilterSet):
    """Find propellers by serial, whole or in part, design or state."""

    text = django_filters.CharFilter(label="Serial, or part of it", method="by_text")
    design = django_filters.ModelChoiceFilter(
        label="Design", field_name="revision__design", queryset=Design.objects.all()
    )
    state = django_filters.ChoiceFilter(label="State", choices=Propeller.State)

    class Meta:
        model = Propeller
        fields: ClassVar[tuple[str, ...]] = ("text", "design", "state")

    def by_text(
        self, propellers: QuerySet[Propeller], _name: str, text: str
    ) -> QuerySet[Propeller]:
        """Look for a text in the serial and the number of the blank."""
        return propellers.filter(
            Q(serial__icontains=text) | Q(blank__number__icontains=text)
        )


class PropellerTable(ShopTable):
    """Propellers, the last started first."""

    serial = django_tables2.Column(
        linkify=("builds:propeller", {"serial": A("serial")})
    )
    design = django_tables2.Column(
        accessor="revision__design", order_by=("revision__design__model",)
    )
    revision = django_tables2.Column(
        accessor="revision__number", verbose_name="Revision"
    )
    state = django_tables2.Column()
    blank = django_tables2.Column(
        order_by=("blank__number",),
        linkify=("builds:blank", {"number": A("blank__number")}),
    )
    written_at = MomentColumn(verbose_name="Started")

    class Meta(ShopTable.Meta):
        model = Propeller
        fields: ClassVar[tuple[str, ...]] = (
            "serial",
            "design",
            "revision",
            "state",
            "blank",
            "written_at",
        )
