"""Lists of designs."""

from typing import Any, ClassVar

import django_filters
import django_tables2
from django_tables2 import A

from records.models import Design
from records.spelling.quantities import length
from records.web.shared.tables import ShopTable


class DesignFilter(django_filters.FilterSet):
    """Find designs by model, and by whether they are in use."""

    model = django_filters.CharFilter(label="Model", lookup_expr="icontains")
    in_use = django_filters.BooleanFilter(label="In use")

    class Meta:
        model = Design
        fields: ClassVar[tuple[str, ...]] = ("model", "in_use")


class DesignTable(ShopTable):
    """Designs, by model."""

    model = django_tables2.Column(
        verbose_name="Model", linkify=("designs:design", {"pk": A("pk")})
    )
    newest = django_tables2.Column(verbose_name="Newest revision")
    diameter_mm = django_tables2.Column(verbose_name="Diameter")
    pitch_mm = django_tables2.Column(verbose_name="Pitch")
    revision_count = django_tables2.Column(verbose_name="Revisions")
    in_use = django_tables2.Column(verbose_name="In use")

    class Meta(ShopTable.Meta):
        model = Design
        fields: ClassVar[tuple[str, ...]] = (
            "model",
            "newest",
            "diameter_mm",
            "pitch_mm",
            "revision_count",
            "in_use",
        )

    def render_diameter_mm(self, value: Any) -> str:
        """Spell the diameter in both systems."""
        return length(value)

    def render_pitch_mm(self, value: Any) -> str:
        """Spell the pitch in both systems."""
        return length(value)

    def render_in_use(self, value: bool) -> str:  # noqa: FBT001 - a table's own call
        """Say yes or no."""
        return "yes" if value else "no"
