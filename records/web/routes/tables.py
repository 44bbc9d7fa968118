"""Lists of routes."""

from typing import ClassVar

import django_tables2
from django_tables2 import A

from records.models import Route
from records.web.shared.tables import ShopTable


class RouteTable(ShopTable):
    """Routes, by name."""

    name = django_tables2.Column(
        verbose_name="Route", linkify=("routes:route", {"pk": A("pk")})
    )
    newest = django_tables2.Column(verbose_name="Newest revision")
    stage_count = django_tables2.Column(verbose_name="Stages")
    blank_count = django_tables2.Column(verbose_name="Blanks")
    in_use = django_tables2.Column(verbose_name="In use")

    class Meta(ShopTable.Meta):
        model = Route
        fields: ClassVar[tuple[str, ...]] = (
            "name",
            "newest",
            "stage_count",
            "blank_count",
            "in_use",
        )

    def render_in_use(self, value: bool) -> str:  # noqa: FBT001 - a table's own call
        """Say yes or no."""
        return "yes" if value else "no"
