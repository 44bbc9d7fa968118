"""Getting in by the wrong door: other sites, stolen cookies, guesses, old sessions."""

import datetime as dt
import json
import os
import subprocess
import sys

import pytest
from axes.models import AccessAttempt
from django.conf import settings as live
from django.contrib.sessions.models import Session
from django.test import Client
from django.utils import timezone

from records.models import LedgerEntry
from records.services.people.reauthenticate import MOST_FAILURES, hash_pin
from records.web.shared import bench
from records.web.shared.access import is_public
from tests import factories
from tests.factories import PASSWORD
from tests.hostile import book
from tests.web.addresses import addresses, things

BACKEND = "django.contrib.auth.backends.ModelBackend"
# From memory, after OWASP's list of redirects that parsers read differently.
ELSEWHERE = (
    "https://evil.example/",
    "//evil.example",
    "///evil.example",
    "/\\evil.example",
    "\\\\evil.example",
    "https:evil.example",
    "https:///evil.example",
    "http://testserver@evil.example/",
    "http://testserver.evil.example/",
    " https://evil.example",
    "\thttps://evil.example",
    "javascript:alert(1)",
    "data:text/html,<script>alert(1)</script>",
    "//evil.example/%2f..",
    "/\t/evil.example",
)


def sign_in(client, login, password=PASSWORD, query="", **headers):
    given = {"login": login, "password": password}
    return client.post(f"/sign-in/{query}", given, **headers)


@pytest.mark.parametrize("wanted", ELSEWHERE)
def test_signing_in_leads_to_no_other_site(client, owner, wanted):
    answer = client.post(
        "/sign-in/",
        {"login": owner.login, "password": PASSWORD},
        query_params={"next": wanted},
    )
    assert answer.status_code == 302
    assert answer.url == "/"


@pytest.mark.parametrize("name", ["next", "then", "url", "return", "redirect_to"])
def test_no_page_leads_where_a_query_says(signed_in, shop, name):
    for address in addresses():
        if not address.parameters:
            answer = signed_in.get(address.path({}), {name: "https://evil.example"})
            assert "evil.example" not in answer.headers.get("Location", "")


class TestHosts:
    """Another name in the Host header reaches no page and no link."""

    @pytest.fixture
    def named(self, settings):
        settings.ALLOWED_HOSTS = ["shop.example"]

    def test_a_foreign_host_is_refused(self, client, owner, named):
        assert (
            client.get("/sign-in/", headers={"host": "evil.example"}).status_code == 400
        )
        assert (
            client.get("/sign-in/", headers={"host": "shop.example"}).status_code == 200
        )

    @pytest.mark.parametrize(
        "header", ["X-Forwarded-Host", "X-Host", "X-Forwarded-Server", "Forwarded"]
    )
    def test_a_forwarded_host_is_not_believed(self, client, owner, named, header):
        answer = client.get(
            "/people/", headers={"host": "shop.example", header: "evil.example"}
        )
        assert "evil.example" not in str(answer.headers) + answer.content.decode()

    def test_the_link_to_set_up_shows_the_host_only_as_a_proposal(self, db, client):
        html = client.get(
            "/sign-in/", headers={"host": "evil.example"}
        ).content.decode()
        assert "evil.example" not in html


class TestOtherSites:
    """A form that another site sends in somebody's name."""

    @pytest.fixture
    def strict(self, owner):
        client = Client(enforce_csrf_checks=True)
        client.force_login(owner, backend=BACKEND)
        return client

    def test_every_address_asks_for_the_token(self, strict, owner):
        made = things()
        before = book.fingerprint()
        closed = {
            address.name: strict.post(address.path(made), {"form_key": ""}).status_code
            for address in addresses()
        }
        assert {n: s for n, s in closed.items() if s not in {403, 405}} == {}
        assert book.fingerprint() == before

    def test_no_view_is_exempt(self):
        assert [
            a.name for a in addresses() if getattr(a.view, "csrf_exempt", False)
        ] == []

    def test_a_token_of_another_browser_does_not_fit(self, strict, owner):
        other = Client(enforce_csrf_checks=True)
        token = other.get("/sign-in/").context["csrf_token"]
        answer = strict.post(
            "/people/add/", {"name": "Eve", "csrfmiddlewaretoken": str(token)}
        )
        assert answer.status_code == 403

    def test_a_foreign_origin_is_refused_with_the_right_token(self, strict, owner):
        page = strict.get("/people/add/")
        answer = strict.post(
            "/people/add/",
            {"csrfmiddlewaretoken": str(page.context["csrf_token"])},
            headers={"origin": "https://evil.example"},
        )
        assert answer.status_code == 403

    def test_a_get_writes_nothing_anywhere(self, signed_in, owner):
        made = things()
        before = book.fingerprint()
        for address in addresses():
            signed_in.get(address.path(made))
            signed_in.head(address.path(made))
        assert book.fingerprint() == before
        assert not LedgerEntry.objects.exists()


class TestCookies:
    def test_are_out_of_reach_of_scripts_and_of_other_sites(self, client, owner):
        client.get("/sign-in/")
        sign_in(client, owner.login)
        for name in (live.SESSION_COOKIE_NAME, live.CSRF_COOKIE_NAME):
            assert client.cookies[name]["httponly"]
            assert client.cookies[name]["samesite"] == "Lax"

    def test_hold_nothing_but_a_random_key(self, client, owner):
        sign_in(client, owner.login)
        key = client.cookies[live.SESSION_COOKIE_NAME].value
        assert len(key) >= 32
        assert owner.login not in key

    def test_the_key_changes_when_somebody_signs_in(self, client, owner):
        client.cookies[live.SESSION_COOKIE_NAME] = "fixed0fixed0fixed0fixed0fixed0fi"
        sign_in(client, owner.login)
        assert client.cookies[live.SESSION_COOKIE_NAME].value[:5] != "fixed"

    def test_are_sent_over_https_only_where_the_shop_has_it(self):
        # The deployment's own settings, read anew by a program of its own.
        result = deployed("SESSION_COOKIE_SECURE", "CSRF_COOKIE_SECURE")
        assert result == [True, True]
        names = deployed("SESSION_COOKIE_NAME", "CSRF_COOKIE_NAME")
        assert all(name.startswith("__Host-") for name in names)


class TestSessions:
    def test_end_with_signing_out_in_the_database_too(self, client, owner):
        sign_in(client, owner.login)
        stolen = client.cookies[live.SESSION_COOKIE_NAME].value
        client.post("/sign-out/")
        assert not Session.objects.filter(pk=stolen).exists()
        thief = Client()
        thief.cookies[live.SESSION_COOKIE_NAME] = stolen
        assert thief.get("/people/").status_code == 302

    def test_end_half_a_day_after_signing_in(self, client, owner):
        sign_in(client, owner.login)
        left = client.session.get_expiry_date() - timezone.now()
        assert dt.timedelta(hours=11) < left <= dt.timedelta(hours=12)
        Session.objects.update(expire_date=timezone.now() - dt.timedelta(seconds=1))
        assert client.get("/people/").status_code == 302

    def test_of_a_bench_end_twenty_minutes_after_the_last_page(self, client, owner):
        client.force_login(owner, backend=BACKEND)
        client.post("/people/devices/", {"name": "tablet at the press"})
        client.post("/sign-out/")
        sign_in(client, owner.login)
        assert client.session.get_expiry_age() <= bench.IDLE_S

    def test_a_new_password_ends_the_others(self, client, owner):
        elsewhere = Client()
        elsewhere.force_login(owner, backend=BACKEND)
        client.force_login(owner, backend=BACKEND)
        given = {"current": PASSWORD, "password": "another long password"}
        assert client.post("/people/own/password/", given).status_code == 302
        assert elsewhere.get("/people/").status_code == 302

    def test_pages_of_the_shop_are_not_kept_by_shared_caches(self, signed_in, shop):
        answer = signed_in.get("/people/")
        assert "Cookie" in answer["Vary"]


class TestGuessing:
    @pytest.mark.django_db(transaction=True)
    def test_eight_wrong_passwords_close_the_door_on_every_way_in(self, client, owner):
        for _ in range(live.AXES_FAILURE_LIMIT):
            sign_in(client, owner.login, "wrong")
        assert AccessAttempt.objects.get().failures_since_start == 8
        for headers in ({}, {"HTTP_X_FORWARDED_FOR": "198.51.100.7"}):
            for login in (owner.login, owner.login.upper(), f" {owner.login} "):
                assert sign_in(Client(), login, **headers).status_code == 429

    def test_wrong_pins_close_the_door_on_the_right_one(self, client, owner):
        maker = factories.PersonFactory(pin=hash_pin("2580"))
        client.force_login(owner, backend=BACKEND)
        client.post("/people/devices/", {"name": "tablet"})
        client.post("/sign-out/")
        for _ in range(MOST_FAILURES):
            assert sign_in(client, maker.login, "1379").status_code == 422
        assert sign_in(client, maker.login, "2580").status_code == 422

    def test_the_answer_is_the_same_for_a_name_that_nobody_has(self, client, owner):
        one = sign_in(client, owner.login, "wrong")
        two = sign_in(client, "nobody", "wrong")
        assert one.context["form"].errors == two.context["form"].errors

    def test_strangers_look_up_a_few_serials_and_no_more(self, client, owner):
        result = [
            client.get("/serial/", {"serial": f"2026-{n:03}"}).status_code
            for n in range(30)
        ]
        assert result[:20] == [200] * 20
        assert set(result[20:]) == {429}

    def test_a_tags_code_cannot_be_guessed_within_the_same_bounds(self, client, owner):
        result = [client.get(f"/t/{n:016}/2026-001").status_code for n in range(30)]
        assert set(result[:20]) == {404}
        assert set(result[20:]) == {429}


class TestClosedByDefault:
    def test_a_public_page_names_nobody(self, client, owner):
        made = things()
        for address in addresses():
            if is_public(address.view):
                html = client.get(address.path(made)).content.decode()
                assert owner.name not in html
                assert owner.login not in html


def deployed(*names):
    """Read settings as a shop behind HTTPS has them."""
    ask = (
        "import json, django.conf as c;"
        f"print(json.dumps([getattr(c.settings, n) for n in {names!r}]))"
    )
    own = {"SHOPQA_HTTPS": "1", "DJANGO_SETTINGS_MODULE": "shopqa.settings"}
    done = subprocess.run(  # noqa: S603 - the program itself
        [sys.executable, "-c", ask],
        env=os.environ | own,
        cwd=live.ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return json.loads(done.stdout)
