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
PUBLIC = {"people:sign_in", "people:sign_out", "people:set_up"}
READER_WRITES = {"people:own_password"} | PUBLIC
ANSWERS = {200, 302, 404, 405, 422}


def test_what_is_open_to_everybody_is_written_down():
    assert {a.name for a in ADDRESSES if is_public(a.view)} == PUBLIC


@pytest.fixture
def made(owner):
    """One of everything, in a shop with an owner."""
    return things()


def test_nobody_gets_only_what_is_public(client, made):
    for address in ADDRESSES:
        path = address.path(made)
        for answer in (client.get(path), client.post(path, {})):
            if address.name in PUBLIC:
                assert answer.status_code in ANSWERS, address.name
            else:
                assert answer.status_code == 302, address.name
                assert answer.url.startswith("/sign-in/?next="), address.name


def test_a_reader_writes_nowhere(client, made):
    client.force_login(person_of(Person.Role.READER), backend=BACKEND)
    for address in ADDRESSES:
        if address.name not in READER_WRITES:
            answer = client.post(address.path(made), {})
            assert answer.status_code == 403, address.name


@pytest.mark.parametrize("role", Person.Role.values)
def test_every_role_reads_or_is_told_why_not(client, made, role):
    client.force_login(person_of(role), backend=BACKEND)
    for address in ADDRESSES:
        answer = client.get(address.path(made))
        if answer.status_code == 403:
            allowed = getattr(address.view, "open_to", None)
            assert allowed is not None, address.name
            assert role not in allowed, address.name
            assert f"signed in as {role}" in answer.content.decode()
        else:
            assert answer.status_code in ANSWERS, address.name


@pytest.mark.parametrize("role", sorted(WRITERS))
def test_an_empty_form_changes_nothing_and_breaks_nothing(client, made, role):
    client.force_login(person_of(role), backend=BACKEND)
    for address in ADDRESSES:
        if address.name != "people:sign_out":
            answer = client.post(address.path(made), {})
            assert answer.status_code in ANSWERS | {400, 403}, address.name
            assert not LedgerEntry.objects.exists(), address.name


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
