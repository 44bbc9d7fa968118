"""Bench devices: where a PIN counts, and where a session ends by itself soon."""

import datetime as dt

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from records.models.people import BenchDevice
from records.queries.people import bench_device

COOKIE = "bench"
SALT = "records.bench"
YEAR_S = 365 * 24 * 3600
IDLE_S = 20 * 60
_REFRESH = dt.timedelta(minutes=1)
_SEEN = "bench_seen"


def device_of(request: HttpRequest) -> BenchDevice | None:
    """Find the bench device that this request comes from, if it is one."""
    token = request.get_signed_cookie(COOKIE, default="", salt=SALT, max_age=YEAR_S)
    return bench_device(str(token))


def device_enrolled(request: HttpRequest) -> bool:
    """Tell whether a PIN counts on the device that this request comes from."""
    return device_of(request) is not None


def put_cookie(response: HttpResponse, token: str) -> None:
    """Let this device be known by its token for a year."""
    response.set_signed_cookie(
        COOKIE,
        token,
        salt=SALT,
        max_age=YEAR_S,
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Lax",
    )


def begin_short_session(request: HttpRequest, now: dt.datetime) -> None:
    """Let the session end twenty minutes after the last page: the tablet is shared."""
    request.session[_SEEN] = now.isoformat()
    request.session.set_expiry(IDLE_S)


def keep_session_short(request: HttpRequest, now: dt.datetime) -> None:
    """Put the end of a bench session off while somebody works, once a minute."""
    seen = request.session.get(_SEEN)
    if seen and now - dt.datetime.fromisoformat(seen) >= _REFRESH:
        begin_short_session(request, now)
