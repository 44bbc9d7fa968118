"""How much may be sent at once, asked before anything of it is read."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from records.rules.files import MEBIBYTE, MOST_BYTES

MOST_BODY_BYTES = MOST_BYTES + 5 * MEBIBYTE
TOO_LARGE = 413
_MOST_DIGITS = 18


class BoundsMiddleware:
    """Refuses a request whose body is larger than any form of the shop's."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Read the declared length; a body without one is not read at all."""
        if _is_too_large(request.META.get("CONTENT_LENGTH") or "0"):
            return render(request, "413.html", status=TOO_LARGE)
        return self.get_response(request)


def _is_too_large(declared: str) -> bool:
    if not declared.isdecimal():
        return False
    return len(declared) > _MOST_DIGITS or int(declared) > MOST_BODY_BYTES
