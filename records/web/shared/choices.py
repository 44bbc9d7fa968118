"""What a form offers to choose from, where it is known only when the page is made."""

from typing import Any

from django.db.models import QuerySet

from records.web.shared.forms import ShopForm


def offer(form: ShopForm, **rows: QuerySet[Any]) -> None:
    """Offer these rows in the fields of these names."""
    for name, queryset in rows.items():
        field: Any = form.fields[name]
        field.queryset = queryset


def offer_units(form: ShopForm, name: str, units: list[tuple[str, str]]) -> None:
    """Offer these units in a field."""
    field: Any = form.fields[name]
    field.choices = units
