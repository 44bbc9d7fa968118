"""What no database keeps and no page can mean is turned away at the door.

A NUL character in an address, a query or a cookie ends PostgreSQL's patience, and a
form in another charset than UTF-8 can hold what UTF-8 can't. A form's own fields are
looked at by the forms.
"""

import re
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

NOT_UNDERSTOOD = 400
_NUL = re.compile(r"\0|%00")
_UTF_8 = {"utf-8", "utf8"}


class PlainTextMiddleware:
    """Refuses a request that is no text the shop could have sent."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Look at everything that is read before a form is."""
        if _has_nul(request) or not _is_utf_8(request):
            return render(request, "400.html", status=NOT_UNDERSTOOD)
        return self.get_response(request)


def _has_nul(request: HttpRequest) -> bool:
    read = (request.path, request.META.get("QUERY_STRING", ""))
    return any(_NUL.search(text) for text in (*read, *request.COOKIES.values()))


def _is_utf_8(request: HttpRequest) -> bool:
    charset = (request.content_params or {}).get("charset", "utf-8")
    return charset.strip("\"' ").lower() in _UTF_8
