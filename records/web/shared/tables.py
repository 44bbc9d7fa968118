"""Lists: sorted, filtered, 25 a page, and exported whole as CSV."""

import csv
import datetime as dt
import re
from collections.abc import Iterator, Mapping
from decimal import Decimal, InvalidOperation
from typing import Any, cast

import django_filters
import django_tables2
from django.core.paginator import EmptyPage
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse, StreamingHttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import render
from django.utils import timezone

PER_PAGE = 25
_NUMBER = re.compile(r"[0-9]{1,9}")
_STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")


class ShopTable(django_tables2.Table):
    """The base of every list."""

    class Meta:
        template_name = "parts/table.html"
        empty_text = "Nothing here yet."


def listing(
    request: HttpRequest,
    table_class: type[ShopTable],
    queryset: QuerySet[Any],
    *,
    filterset: type[django_filters.FilterSet] | None = None,
    template: str,
    context: Mapping[str, Any] | None = None,
) -> HttpResponseBase:
    """Show a list as `table` (and its `filter`), or send it as CSV for ?export=csv."""
    bound = filterset(request.GET or None, queryset=queryset) if filterset else None
    table = table_class(bound.qs if bound else queryset)
    _sort(table, request.GET.getlist(table.prefixed_order_by_field))
    if request.GET.get("export") == "csv":
        return _export(table, request)
    _paginate(table, request.GET.get(table.prefixed_page_field, ""))
    export = request.GET.copy()
    export["export"] = "csv"
    facts = {"table": table, "filter": bound, "export": export.urlencode()}
    response: HttpResponse = render(request, template, {**facts, **(context or {})})
    return response


def _sort(table: ShopTable, wanted: list[str]) -> None:
    """Sort as asked, and end with the key, so that no row is on two pages."""
    names = set(table.columns.names())
    if known := [name for name in wanted if name.removeprefix("-") in names]:
        table.order_by = known
    rows = table.data.data
    if isinstance(rows, QuerySet):
        order = rows.query.order_by or rows.model._meta.ordering
        table.data.data = rows.order_by(*order, "pk")


def _paginate(table: ShopTable, page: str) -> None:
    number = int(page) if _NUMBER.fullmatch(page) else 1
    try:
        table.paginate(page=max(1, number), per_page=PER_PAGE)
    except EmptyPage:
        table.page = table.paginator.page(table.paginator.num_pages)


def _export(table: ShopTable, request: HttpRequest) -> StreamingHttpResponse:
    name = request.path.strip("/").replace("/", "-") or "list"
    return StreamingHttpResponse(
        _lines(table),
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{name}.csv"'},
    )


class _Echo:
    """Gives each line back instead of keeping it."""

    def write(self, line: str) -> str:
        return line


def _lines(table: ShopTable) -> Iterator[str]:
    writer = csv.writer(_Echo())
    yield "\ufeff"
    for row in table.as_values():
        yield cast("str", writer.writerow([cell(value) for value in row]))


def cell(value: object) -> str:
    """Spell a cell so that no spreadsheet takes it for a formula."""
    if value is None:
        return ""
    if isinstance(value, dt.datetime):
        return timezone.localtime(value).isoformat(timespec="seconds")
    text = str(value)
    if text.startswith(_STARTS_A_FORMULA) and not _is_number(text):
        return f"'{text}"
    return text


def _is_number(text: str) -> bool:
    try:
        return Decimal(text).is_finite()
    except InvalidOperation:
        return False
