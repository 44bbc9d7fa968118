"""Screens of control charts: what was measured, and how one figure behaves."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import mark_safe

from records.documents.control_chart import control_chart
from records.queries.trends import characteristics_read, series_of
from records.rules.trends import trend_of
from records.spelling.moments import day
from records.web.trends.pages import facts_of, readings_of


def trends(request: HttpRequest) -> HttpResponse:
    """List what has been measured often enough to be drawn."""
    rows = [(row, day(row.newest)) for row in characteristics_read()]
    return render(request, "trends/trends.html", {"rows": rows})


def trend(request: HttpRequest, stage: str, code: str) -> HttpResponse:
    """Draw the newest readings of one characteristic, with what they show."""
    series = series_of(stage, code)
    if series is None:
        raise Http404("Nothing was read under this name.")
    this_trend = trend_of(series)
    context = {
        "series": series,
        "trend": this_trend,
        "chart": mark_safe(control_chart(this_trend)) if this_trend else "",  # noqa: S308 - our own SVG, texts escaped
        "findings": this_trend.findings if this_trend else [],
        "facts": facts_of(this_trend) if this_trend else [],
        "readings": readings_of(series),
    }
    return render(request, "trends/trend.html", context)
