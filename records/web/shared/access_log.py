"""What the program writes of its own work: how it went, never who or what.

One line of JSON each. A message is kept without what was filled into it, and an error
without its sentence: names, numbers and what was typed could stand there.
"""

import datetime as dt
import json
import logging
import re
import time
import uuid
from collections.abc import Callable, Iterator
from contextvars import ContextVar
from pathlib import Path
from traceback import extract_tb
from types import TracebackType
from typing import Any, Final

from django.http import HttpRequest, HttpResponse

HEADER: Final = "X-Request-ID"
KEPT: Final = ("method", "route", "status", "duration_ms")
METHODS: Final = frozenset(
    {"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE"}
)
BROKEN: Final = 500
_ROOT: Final = Path(__file__).resolve().parents[3]
_GIVEN: Final = re.compile(r"[A-Za-z0-9-]{8,64}")
_request_id: ContextVar[str] = ContextVar("request_id", default="")

logger = logging.getLogger(__name__)


class AccessLogMiddleware:
    """Writes a line for each request, and gives the request a number to ask by.

    A number given by a proxy is taken on, so that one request has one everywhere.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass the request on, and write how it went."""
        began = time.perf_counter()
        given = request.headers.get(HEADER, "")
        name = given if _GIVEN.fullmatch(given) else uuid.uuid4().hex
        token = _request_id.set(name)
        try:
            response = self.get_response(request)
            response[HEADER] = name
            _write(request, response.status_code, time.perf_counter() - began)
        finally:
            _request_id.reset(token)
        return response


class JsonFormatter(logging.Formatter):
    """Spells a record as a line of JSON."""

    def format(self, record: logging.LogRecord) -> str:
        """Spell time, level, logger and event, and what else is allowed."""
        at = dt.datetime.fromtimestamp(record.created, dt.UTC)
        line: dict[str, Any] = {
            "time": at.isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "logger": record.name,
            "event": _event(record),
        }
        if name := _request_id.get():
            line["request_id"] = name
        line |= {key: vars(record)[key] for key in KEPT if key in vars(record)}
        if record.exc_info and record.exc_info[0]:
            line["error"] = record.exc_info[0].__name__
            line["at"] = list(_places(record.exc_info[2]))
        return json.dumps(line)


def _write(request: HttpRequest, status: int, seconds: float) -> None:
    match = request.resolver_match
    logger.log(
        logging.ERROR if status >= BROKEN else logging.INFO,
        "request",
        extra={
            "method": request.method if request.method in METHODS else "other",
            "route": match.view_name if match else "",
            "status": status,
            "duration_ms": round(seconds * 1000, 1),
        },
    )


def _event(record: logging.LogRecord) -> str:
    """Give the message as the program has it: unfilled, and no error's own words."""
    if isinstance(record.msg, str) and (record.args or not record.exc_info):
        return record.msg
    kind = record.exc_info[0] if record.exc_info else type(record.msg)
    return kind.__name__ if kind else "error"


def _places(trace: TracebackType | None) -> Iterator[str]:
    for frame in extract_tb(trace):
        path = Path(frame.filename)
        inside = path.is_relative_to(_ROOT)
        shown = path.relative_to(_ROOT) if inside else Path(*path.parts[-3:])
        yield f"{shown}:{frame.lineno} {frame.name}"
