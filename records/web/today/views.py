"""The first page: what waits today."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from records.spelling.moments import day
from records.web.today.pages import sum_up, today_groups


def today(request: HttpRequest) -> HttpResponse:
    """Show what waits."""
    now = timezone.now()
    groups = today_groups(now)
    context = {
        "groups": groups,
        "verdict": sum_up(groups),
        "day": day(timezone.localdate(now)),
        "first": groups[0].tickets[0] if groups else None,
    }
    return render(request, "today/today.html", context)
