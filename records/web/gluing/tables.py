"""List of mixes."""

from typing import Any, ClassVar

import django_filters
import django_tables2
from django.db.models import Q, QuerySet
from django_tables2 import A

from records.models import Material, Mix
from records.web.shared.columns import MomentColumn
from records.web.shared.tables import ShopTable


class MixFilter(django_filters.FilterSet):
    """Find mixes by number, glue, or the lots in them."""

    text = django_filters.CharFilter(label="Number of mix or lot", method="by_text")
    glue = django_filters.ModelChoiceFilter(
        label="Glue",
        field_name="sheet__adhesive",
        queryset=Material.objects.filter(kind=Material.Kind.ADHESIVE).order_by("name"),
    )

    class Meta:
        model = Mix
        fields: ClassVar[tuple[str, ...]] = ("text", "glue")

    def by_text(self, mixes: QuerySet[Mix], _name: str, text: str) -> QuerySet[Mix]:
        """Look for a text in the numbers of a mix and its lots."""
        return mixes.filter(
            Q(number__icontains=text)
            | Q(resin_lot__number__icontains=text)
            | Q(hardener_lot__number__icontains=text)
        )


class MixTable(ShopTable):
    """Mixes, the last made first."""

    number = django_tables2.Column(
        verbose_name="Mix", linkify=("gluing:mix", {"number": A("number")})
    )
    glue = django_tables2.Column(
        accessor="sheet__adhesive", order_by=("sheet__adhesive__name",)
    )
    mixed_at = MomentColumn(verbose_name="Mixed")
    resin_lot = django_tables2.Column(order_by=("resin_lot__number",))
    hardener_lot = django_tables2.Column(
        order_by=("hardener_lot__number",), default="water"
    )
    parts = django_tables2.Column(verbose_name="Parts to 100")
    joints = django_tables2.Column()
    coupons_made = django_tables2.Column(verbose_name="Coupons")
    flags = django_tables2.Column(
        verbose_name="Flagged", orderable=False, empty_values=()
    )

    class Meta(ShopTable.Meta):
        model = Mix
        fields: ClassVar[tuple[str, ...]] = (
            "number",
            "glue",
            "mixed_at",
            "resin_lot",
            "hardener_lot",
            "parts",
            "joints",
            "coupons_made",
            "flags",
        )

    def render_parts(self, value: Any) -> str:
        """Leave out the zeros that say nothing."""
        return f"{value.normalize():f}"

    def render_flags(self, value: str) -> str:
        """Say it in a word; the page has the sentences."""
        return "yes" if value else "no"
