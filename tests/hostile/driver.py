"""Sends hostile requests as somebody or nobody, and keeps what went wrong."""

import traceback
from urllib.parse import quote, urlencode

from django.db import transaction
from django.test import Client
from django.urls import reverse

from tests.hostile import book
from tests.web.addresses import person_of

BACKEND = "django.contrib.auth.backends.ModelBackend"
BROKEN = 500
ROLES = (None, "reader", "owner")
_MARK = "HOSTILEMARK"
_NUMBER = 987_654_321


class Visitor:
    """Somebody at the door, whose every request is undone afterwards."""

    def __init__(self, role):
        self.role = role
        self.client = Client()
        self.wrong = {}
        if role:
            self.client.force_login(person_of(role), backend=BACKEND)
            self.cookies = self.client.cookies.output(header="", sep=";")
        else:
            self.cookies = ""

    def send(self, path, sent, *, may_write=False):
        """Send a request and undo it: an error or an unknown change is kept."""
        before = book.counts(), book.head()
        with transaction.atomic():
            try:
                with transaction.atomic():
                    answer = self._ask(path, sent)
                changed = (book.counts(), book.head()) != before
            except Exception as error:
                self._keep(path, sent, where(error), str(error)[:120])
                answer, changed = None, False
            transaction.set_rollback(True)
        if answer is not None and answer.status_code >= BROKEN:
            self._keep(path, sent, answer.status_code)
        if changed and not (may_write and answer.status_code == 302):
            self._keep(path, sent, "changed rows")
        return answer

    def _ask(self, path, sent):
        headers = dict(sent.headers)
        if "HTTP_COOKIE" in headers:
            headers["HTTP_COOKIE"] = f"{self.cookies}; {headers['HTTP_COOKIE']}"
        answer = self.client.generic(
            sent.method, path, sent.body, content_type=sent.kind, **headers
        )
        if answer.streaming:
            answer.getvalue()
        return answer

    def report(self):
        """Say everything that went wrong, with a request that repeats it."""
        return "\n".join(f"{what}\n    by {sent}" for what, sent in self.wrong.items())

    def _keep(self, path, sent, what, told=""):
        """Keep the first request that went wrong in a way, not the thousand after."""
        self.wrong.setdefault(str(what), f"{sent} {path[:160]} {told}")


def where(error):
    """Name an error and the last place of the program that it came through."""
    frames = traceback.extract_tb(error.__traceback__)
    own = [f for f in frames if "/records/" in f.filename]
    place = own[-1] if own else frames[-1]
    return f"{type(error).__name__} at {place.filename}:{place.lineno}"


def hostile_paths(address, things, strings):
    """Fill each parameter of an address with each string, the others well."""
    for name in address.parameters:
        marked = marked_path(address, things, name)
        for text in strings:
            yield replaced(marked, quote(text, safe=""))


def marked_path(address, things, name):
    """Give the path with a mark where a parameter stands."""
    given = {p: address._value(p, things) for p in address.parameters}
    mark = _NUMBER if isinstance(given[name], int) else _MARK
    return reverse(address.name, kwargs={**given, name: mark})


def replaced(marked, text):
    """Put a text where the mark is."""
    return marked.replace(str(_NUMBER), text).replace(_MARK, text)


def query(names, text):
    """Ask for the same in every name."""
    return urlencode(dict.fromkeys(names, text))
