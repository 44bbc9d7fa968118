"""Lists of boards."""

from typing import Any, ClassVar

import django_filters
import django_tables2
from django.db.models import Q, QuerySet
from django_tables2 import A

from records.models import Board
from records.spelling.numbers import plain
from records.web.shared.tables import ShopTable


class BoardFilter(django_filters.FilterSet):
    """Find boards by number, lot or species, and by how they stand."""

    text = django_filters.CharFilter(label="Number or species", method="by_text")
    lot = django_filters.CharFilter(
        label="Lot", field_name="lot__number", lookup_expr="iexact"
    )
    state = django_filters.ChoiceFilter(label="State", choices=Board.State)

    class Meta:
        model = Board
        fields: ClassVar[tuple[str, ...]] = ("text", "lot", "state")

    def by_text(
        self, boards: QuerySet[Board], _name: str, text: str
    ) -> QuerySet[Board]:
        """Look for a text in the board's number and species."""
        return boards.filter(
            Q(number__icontains=text) | Q(lot__material__name__icontains=text)
        )


class BoardTable(ShopTable):
    """Boards, newest first."""

    number = django_tables2.Column(
        verbose_name="Board", linkify=("boards:board", {"number": A("number")})
    )
    lot = django_tables2.Column(
        order_by=("lot__number",), linkify=("lots:lot", {"number": A("lot__number")})
    )
    species = django_tables2.Column(
        accessor="lot__material__name", verbose_name="Species"
    )
    size = django_tables2.Column(
        empty_values=(),
        verbose_name="Size, mm",
        order_by=("length_mm", "width_mm", "thickness_mm"),
    )
    sawn = django_tables2.Column(verbose_name="Laminations")
    state = django_tables2.Column()

    class Meta(ShopTable.Meta):
        model = Board
        fields: ClassVar[tuple[str, ...]] = (
            "number",
            "lot",
            "species",
            "size",
            "grade",
            "sawn",
            "state",
        )

    def render_size(self, record: Any) -> str:
        """Spell length, width and thickness; a dash where one is not known."""
        sizes = (record.length_mm, record.width_mm, record.thickness_mm)
        return " x ".join(plain(size) for size in sizes)
