"""Lists of lots, suppliers, materials and glue sheets."""

from typing import Any, ClassVar

import django_filters
import django_tables2
from django.db.models import Q, QuerySet
from django_tables2 import A

from records.models import GlueSheet, Lot, Material, Supplier
from records.web.shared.columns import DayColumn
from records.web.shared.tables import ShopTable

UNKNOWN = "unknown"
EXPIRED = "past its last day"


class LotFilter(django_filters.FilterSet):
    """Find lots by what they are, how they stand, or a number."""

    text = django_filters.CharFilter(label="Number or name", method="by_text")
    kind = django_filters.ChoiceFilter(
        label="Kind", field_name="material__kind", choices=Material.Kind
    )
    state = django_filters.ChoiceFilter(label="State", choices=Lot.State)

    class Meta:
        model = Lot
        fields: ClassVar[tuple[str, ...]] = ("text", "kind", "state")

    def by_text(self, lots: QuerySet[Lot], _name: str, text: str) -> QuerySet[Lot]:
        """Look for a text in the numbers and names of a lot."""
        return lots.filter(
            Q(number__icontains=text)
            | Q(supplier_lot__icontains=text)
            | Q(material__name__icontains=text)
            | Q(supplier__name__icontains=text)
        )


class LotTable(ShopTable):
    """Lots, the last received first."""

    number = django_tables2.Column(
        verbose_name="Lot", linkify=("lots:lot", {"number": A("number")})
    )
    material = django_tables2.Column(order_by=("material__name",))
    supplier = django_tables2.Column(order_by=("supplier__name",), default=UNKNOWN)
    supplier_lot = django_tables2.Column(verbose_name="Number on it", empty_values=())
    received_on = DayColumn()
    expires_on = DayColumn(verbose_name="Usable until")
    state = django_tables2.Column()

    class Meta(ShopTable.Meta):
        model = Lot
        fields: ClassVar[tuple[str, ...]] = (
            "number",
            "material",
            "supplier",
            "supplier_lot",
            "received_on",
            "expires_on",
            "state",
        )

    def render_supplier_lot(self, value: str) -> str:
        """Say that a missing number is unknown."""
        return value or UNKNOWN

    def render_state(self, record: Any, value: str) -> str:
        """Say the state, and that the lot is past its last day."""
        return f"{value}, {EXPIRED}" if record.expired else value


class SupplierTable(ShopTable):
    """Suppliers, with what they sent and what of it was sent back."""

    name = django_tables2.Column(linkify=("lots:supplier", {"pk": A("pk")}))
    received = django_tables2.Column(verbose_name="Lots received")
    refused = django_tables2.Column(verbose_name="Refused or returned")
    in_use = django_tables2.Column(verbose_name="Bought from")

    class Meta(ShopTable.Meta):
        model = Supplier
        fields: ClassVar[tuple[str, ...]] = (
            "name",
            "contact",
            "received",
            "refused",
            "in_use",
        )

    def render_in_use(self, *, value: bool) -> str:
        """Say it in a word."""
        return "yes" if value else "no more"


class MaterialTable(ShopTable):
    """Materials by kind and name."""

    name = django_tables2.Column()
    received = django_tables2.Column(verbose_name="Lots received")
    in_use = django_tables2.Column(
        verbose_name="Worked with", linkify=("lots:material_use", {"pk": A("pk")})
    )

    class Meta(ShopTable.Meta):
        model = Material
        fields: ClassVar[tuple[str, ...]] = (
            "name",
            "kind",
            "family",
            "received",
            "in_use",
        )

    def render_in_use(self, *, value: bool) -> str:
        """Say it in a word."""
        return "yes" if value else "no more"


class SheetTable(ShopTable):
    """Glue sheets in force."""

    adhesive = django_tables2.Column(
        order_by=("adhesive__name",), linkify=("lots:sheet", {"pk": A("pk")})
    )
    hardener = django_tables2.Column(
        order_by=("hardener__name",), default="none, or water"
    )
    revision = django_tables2.Column()
    source = django_tables2.Column()

    class Meta(ShopTable.Meta):
        model = GlueSheet
        fields: ClassVar[tuple[str, ...]] = (
            "adhesive",
            "hardener",
            "revision",
            "source",
        )
