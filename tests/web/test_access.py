"""Every address as every role and as nobody: closed until a view says otherwise."""

import pytest
from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.test import RequestFactory

from records.models import LedgerEntry, Person
from records.web.shared.access import (
    WRITERS,
    AccessMiddleware,
    is_public,
    public,
    roles,
)
from tests import factories
from tests.web.addresses import addresses, person_of, things

BACKEND = "django.contrib.auth.backends.ModelBackend"
ADDRESSES = addresses()
# Open to somebody without an account. A new one is thought over, then written here.
PUBLIC = {
    "conformity:check",
    "conformity:key",
    "health:health",
    "people:set_up",
    "people:sign_in",
    "people:sign_out",
    "tags:lookup",
    "tags:tag",
    "tags:tag_in_capitals",
}
READER_WRITES = {"people:own_password"} | PUBLIC
ANSWERS = {200, 302, 404, 405, 422}


def test_what_is_open_to_everybody_is_written_down():
    assert {a.name for a in ADDRESSES if is_public(a.view)} == PUBLIC


@pytest.fixture
def made(owner):
    """One of everything, in a shop with an owner."""
    return things()


@pytest.fixture
def visit(client, made):
    """Ask every address, as somebody or nobody; an error counts as status 500."""
    client.raise_request_exception = False

    def ask(method, role=None, leave_out=frozenset()):
        if role:
            client.force_login(person_of(role), backend=BACKEND)
        for address in ADDRESSES:
            if address.name not in leave_out:
                path = address.path(made)
                answer = client.get(path) if method == "get" else client.post(path, {})
                yield address, answer

    return ask


@pytest.mark.parametrize("method", ["get", "post"])
def test_nobody_gets_only_what_is_public(visit, method):
    wrong = {
        address.name: answer.status_code
        for address, answer in visit(method)
        if not (
            answer.status_code in ANSWERS
            if address.name in PUBLIC
            else answer.status_code == 302 and answer.url.startswith("/sign-in/?next=")
        )
    }
    assert wrong == {}


def test_a_reader_writes_nowhere(visit):
    asked = visit("post", Person.Role.READER, leave_out=READER_WRITES)
    wrong = {a.name: r.status_code for a, r in asked if r.status_code != 403}
    assert wrong == {}


@pytest.mark.parametrize("role", Person.Role.values)
def test_every_role_reads_or_is_told_why_not(visit, role):
    wrong = {
        address.name: answer.status_code
        for address, answer in visit("get", role)
        if answer.status_code not in ANSWERS and not is_closed_to(role, address, answer)
    }
    assert wrong == {}


def is_closed_to(role, address, answer):
    allowed = getattr(address.view, "open_to", None)
    return (
        answer.status_code == 403
        and allowed is not None
        and role not in allowed
        and f"signed in as {role}" in answer.content.decode()
    )


@pytest.mark.parametrize("role", sorted(WRITERS))
def test_an_empty_form_changes_nothing_and_breaks_nothing(visit, role):
    asked = visit("post", role, leave_out={"people:sign_out"})
    wrong = {
        address.name: answer.status_code
        for address, answer in asked
        if answer.status_code not in ANSWERS | {400, 403}
        or LedgerEntry.objects.exists()
    }
    assert wrong == {}


class TestMiddleware:
    """A view without a decorator, one that is public, and one for some roles."""

    def ask(self, view, person, method="get"):
        request = getattr(RequestFactory(), method)("/somewhere/")
        request.user = person
        request.session = {}
        door = AccessMiddleware(lambda _: HttpResponse())
        return door.process_view(request, view, (), {})

    def plain(self, request):
        return HttpResponse()

    def test_closed_by_default(self):
        answer = self.ask(self.plain, AnonymousUser())
        assert answer.url == "/sign-in/?next=/somewhere/"

    def test_open_where_it_says_so(self):
        @public
        def view(request):
            return HttpResponse()

        assert self.ask(view, AnonymousUser()) is None

    @pytest.mark.django_db
    @pytest.mark.parametrize("role", Person.Role.values)
    def test_roles_hold_for_reading_and_writing(self, role):
        @roles("owner")
        def view(request):
            return HttpResponse()

        person = factories.PersonFactory(role=role)
        for method in ("get", "post"):
            if role == "owner":
                assert self.ask(view, person, method) is None
            else:
                with pytest.raises(PermissionDenied, match="role is owner"):
                    self.ask(view, person, method)

    @pytest.mark.django_db
    @pytest.mark.parametrize("method", ["post", "put", "patch", "delete"])
    def test_a_reader_may_only_look(self, method):
        reader = factories.PersonFactory(role="reader")
        assert self.ask(self.plain, reader) is None
        with pytest.raises(PermissionDenied):
            self.ask(self.plain, reader, method)

    def test_a_role_that_is_none_is_a_mistake_at_once(self):
        with pytest.raises(ValueError, match="king"):
            roles("king")
