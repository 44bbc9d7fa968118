"""Public look-ups are counted by address, so that nobody reads the register through.

The count lies in the process's cache: with several server processes somebody may get
as many times as many look-ups, which is still few. Behind a proxy all strangers share
the proxy's address, and its own limit is the one to set.
"""

from typing import Final

from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from records.models import Person

MOST: Final = 20
WITHIN_S: Final = 600
TOO_MANY: Final = 429


def is_one_too_many(request: HttpRequest) -> bool:
    """Count a look-up, and tell whether it is one too many; people at work are free."""
    if isinstance(request.user, Person):
        return False
    key = f"lookup:{request.META.get('REMOTE_ADDR', '')}"
    cache.add(key, 0, timeout=WITHIN_S)
    try:
        return cache.incr(key) > MOST
    except ValueError:  # it ran out between the two lines
        return False


def too_many(request: HttpRequest) -> HttpResponse:
    """Ask a stranger to wait."""
    response: HttpResponse = render(request, "429.html", status=TOO_MANY)
    response["Retry-After"] = str(WITHIN_S)
    return response
