"""Who gets in: every page is closed until its view says otherwise."""

from collections.abc import Callable
from typing import Any, TypeVar

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.urls import reverse
from django.utils import timezone

from records.models import Person
from records.web.shared.bench import keep_session_short

View = Callable[..., HttpResponseBase]
V = TypeVar("V", bound=View)

_MARK = "open_to"
PUBLIC: frozenset[str] = frozenset({"public"})
WRITERS: frozenset[str] = frozenset(
    {Person.Role.OWNER, Person.Role.MAKER, Person.Role.INSPECTOR}
)
SAFE = {"GET", "HEAD", "OPTIONS"}


def public(view: V) -> V:
    """Open a view to everybody, signed in or not."""
    setattr(view, _MARK, PUBLIC)
    return view


def roles(*names: str) -> Callable[[V], V]:
    """Open a view, for reading and writing, to these roles only.

    Without it any signed-in person may read, and everyone but readers may write.
    """
    known = frozenset(Person.Role(name).value for name in names)

    def mark(view: V) -> V:
        setattr(view, _MARK, known)
        return view

    return mark


def is_public(view: View) -> bool:
    """Tell whether a view is open to somebody who has not signed in."""
    return getattr(view, _MARK, None) == PUBLIC


class AccessMiddleware:
    """Asks before every view: signed in, and of a role that may do this."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass the request on."""
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: View, _args: Any, _kwargs: Any
    ) -> HttpResponseBase | None:
        """Send a stranger to the sign-in page, and refuse the wrong role."""
        if is_public(view):
            return None
        person = request.user
        if not isinstance(person, Person):
            return redirect_to_login(request.get_full_path(), reverse("people:sign_in"))
        keep_session_short(request, timezone.now())
        if not _is_open(view, person, request.method or "GET"):
            raise PermissionDenied(_why_not(view, person))
        return None


def _is_open(view: View, person: Person, method: str) -> bool:
    named: frozenset[str] | None = getattr(view, _MARK, None)
    if named is not None:
        return person.role in named
    return method in SAFE or person.role in WRITERS


def _why_not(view: View, person: Person) -> str:
    named = getattr(view, _MARK, None) or WRITERS
    allowed = " or ".join(sorted(named))
    return (
        f"You are signed in as {person.get_role_display().lower()}; "
        f"this needs a person whose role is {allowed}."
    )
