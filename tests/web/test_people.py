"""The people area as somebody at a screen meets it."""

import datetime as dt

import pytest
from django.test import Client
from django.utils import timezone

from records.models import Person, Shop
from records.models.people import BenchDevice
from records.services.people.accounts import make_set_up_link
from records.services.people.reauthenticate import hash_pin
from records.web.shared import bench
from tests import factories
from tests.factories import PASSWORD

BACKEND = "django.contrib.auth.backends.ModelBackend"
NEW = "another long password"
SET_UP = {
    "shop_name": "Millbrook Airscrews",
    "base_url": "http://testserver",
    "name": "Ada Birchwood",
    "login": "Ada",
    "password": NEW,
}


def sign_in(client, login, password, **kwargs):
    given = {"login": login, "password": password}
    return client.post("/sign-in/", given, **kwargs)


def is_in(client):
    return client.get("/people/").status_code == 200


class TestSetUp:
    def test_opens_the_book_and_signs_in(self, client, db):
        url = f"/set-up/{make_set_up_link(timezone.now())}/"
        assert "http://testserver" in client.get(url).content.decode()
        response = client.post(url, SET_UP)
        assert response.url == "/shop/"
        assert Shop.objects.get().name == "Millbrook Airscrews"
        assert is_in(client)

    def test_a_refusal_keeps_what_was_typed(self, client, db):
        url = f"/set-up/{make_set_up_link(timezone.now())}/"
        response = client.post(url, SET_UP | {"password": "short"})
        assert response.status_code == 422
        assert 'value="Ada Birchwood"' in response.content.decode()
        assert not Person.objects.exists()

    def test_a_wrong_link_shows_no_form(self, client, db):
        html = client.get("/set-up/guessed/").content.decode()
        assert "<form" not in html
        assert client.post("/set-up/guessed/", SET_UP).status_code == 422
        assert not Person.objects.exists()

    def test_there_is_no_such_page_once_somebody_works_here(self, client, owner):
        assert client.get("/set-up/guessed/").status_code == 404

    def test_the_sign_in_page_says_how_to_begin(self, client, db):
        assert "manage.py start" in client.get("/sign-in/").content.decode()


class TestSignIn:
    def test_leads_to_the_page_that_was_wanted(self, client, owner):
        wanted = client.get("/people/?sort=role").url
        given = {"login": owner.login.upper(), "password": PASSWORD}
        assert client.post(wanted, given).url == "/people/?sort=role"

    @pytest.mark.parametrize(
        "wanted",
        ["https://evil.example/", "//evil.example", "/\\evil.example", "javascript:x"],
    )
    def test_never_leads_to_another_site(self, client, owner, wanted):
        url = f"/sign-in/?next={wanted}"
        response = client.post(url, {"login": owner.login, "password": PASSWORD})
        assert response.status_code == 302
        assert "evil" not in response.url
        assert response.url.startswith("/")
        assert not response.url.startswith("//")

    def test_says_the_same_whether_name_or_password_is_wrong(self, client, owner):
        one = sign_in(client, owner.login, "wrong")
        two = sign_in(client, "nobody", "wrong")
        assert one.status_code == two.status_code == 422
        assert one.context["form"].errors == two.context["form"].errors

    def test_somebody_who_was_stopped_is_let_out_at_once(self, signed_in, owner):
        assert is_in(signed_in)
        Person.objects.filter(pk=owner.pk).update(is_active=False)
        assert not is_in(signed_in)
        assert sign_in(signed_in, owner.login, PASSWORD).status_code == 422

    @pytest.mark.django_db(transaction=True)
    def test_eight_wrong_tries_close_the_door_for_that_name_only(self, client, owner):
        other = factories.PersonFactory()
        for _ in range(8):
            last = sign_in(client, owner.login, "wrong")
        assert last.status_code == 429
        assert "quarter of an hour" in last.content.decode()
        assert sign_in(client, owner.login, PASSWORD).status_code == 429
        assert sign_in(client, owner.login.upper(), PASSWORD).status_code == 429
        assert sign_in(client, other.login, PASSWORD).status_code == 302

    def test_signing_out_takes_a_post(self, signed_in):
        assert signed_in.get("/sign-out/").status_code == 405
        signed_in.post("/sign-out/")
        assert not is_in(signed_in)

    def test_the_form_is_guarded_against_other_sites(self, owner):
        strict = Client(enforce_csrf_checks=True)
        response = sign_in(strict, owner.login, PASSWORD)
        assert response.status_code == 403
        assert "open too long" in response.content.decode()


class TestBenchDevice:
    @pytest.fixture
    def tablet(self, client, owner):
        """Give a client on an enrolled device, with nobody signed in."""
        client.force_login(owner, backend=BACKEND)
        client.post("/people/devices/", {"name": "tablet at the press"})
        client.post("/sign-out/")
        return client

    @pytest.fixture
    def maker(self, shop):
        return factories.PersonFactory(pin=hash_pin("2580"))

    def test_a_pin_signs_in_there_and_nowhere_else(self, tablet, maker):
        assert sign_in(Client(), maker.login, "2580").status_code == 422
        assert sign_in(tablet, maker.login, "2580").status_code == 302
        assert is_in(tablet)

    def test_a_password_still_does(self, tablet, maker):
        assert sign_in(tablet, maker.login, PASSWORD).status_code == 302

    def test_wrong_pins_close_the_door(self, tablet, maker):
        for _ in range(5):
            assert sign_in(tablet, maker.login, "1379").status_code == 422
        assert sign_in(tablet, maker.login, "2580").status_code == 422
        assert not is_in(tablet)

    def test_a_session_ends_twenty_minutes_after_the_last_page(self, tablet, maker):
        sign_in(tablet, maker.login, "2580")
        assert tablet.session.get_expiry_age() <= bench.IDLE_S
        session = tablet.session
        earlier = timezone.now() - dt.timedelta(minutes=10)
        session["bench_seen"] = earlier.isoformat()
        session.set_expiry(10)
        session.save()
        assert is_in(tablet)
        assert tablet.session.get_expiry_age() > bench.IDLE_S - 60

    def test_the_cookie_is_signed_and_out_of_reach_of_scripts(self, tablet, maker):
        cookie = tablet.cookies[bench.COOKIE]
        assert cookie["httponly"]
        token = cookie.value.split(":")[0]
        forged = Client()
        forged.cookies[bench.COOKIE] = token
        assert sign_in(forged, maker.login, "2580").status_code == 422

    def test_an_ended_device_takes_no_pin(self, tablet, maker, owner):
        desk = Client()
        desk.force_login(owner, backend=BACKEND)
        device = BenchDevice.objects.get()
        assert desk.post(f"/people/devices/{device.pk}/end/").status_code == 422
        response = desk.post(f"/people/devices/{device.pk}/end/", {"form_key": ""})
        assert response.status_code == 302
        assert sign_in(tablet, maker.login, "2580").status_code == 422

    def test_a_maker_enrols_none(self, client, maker):
        client.force_login(maker, backend=BACKEND)
        response = client.post("/people/devices/", {"name": "my own phone"})
        assert response.status_code == 422
        assert "no authority" in response.content.decode()
        assert bench.COOKIE not in client.cookies


class TestPages:
    def test_the_list_takes_the_same_queries_for_many_as_for_few(
        self, signed_in, django_assert_max_num_queries
    ):
        for _ in range(20):
            factories.AuthorityFactory()
        with django_assert_max_num_queries(7):
            assert signed_in.get("/people/").status_code == 200

    def test_a_persons_page_takes_the_same_queries_for_many_authorities(
        self, signed_in, django_assert_max_num_queries
    ):
        ben = factories.PersonFactory()
        for year in range(2000, 2020):
            first = dt.date(year, 1, 1)
            factories.AuthorityFactory(
                person=ben, from_on=first, until_on=first + dt.timedelta(90)
            )
        with django_assert_max_num_queries(6):
            html = signed_in.get(f"/people/at/{ben.login}/").content.decode()
        assert html.count("ended") >= 20

    def test_a_button_that_cannot_be_pressed_says_why(self, client, shop):
        maker = factories.PersonFactory()
        client.force_login(maker, backend=BACKEND)
        html = client.get(f"/people/at/{maker.login}/").content.decode()
        assert "has no authority to change limits" in html
        assert "/grant/" not in html

    def test_gives_and_ends_an_authority(self, signed_in):
        ben = factories.PersonFactory()
        today = timezone.localdate().isoformat()
        url = f"/people/at/{ben.login}/grant/"
        signed_in.post(url, {"deed": "sign", "from_on": today})
        given = ben.authorities.get()
        signed_in.post(
            f"/people/authorities/{given.pk}/end/", {"until_on": today}, follow=True
        )
        given.refresh_from_db()
        assert given.until_on.isoformat() == today

    def test_stops_readmits_changes_and_resets(self, signed_in):
        ben = factories.PersonFactory()
        at = f"/people/at/{ben.login}"
        for page, given in (
            ("stop", {"form_key": ""}),
            ("readmit", {"form_key": ""}),
            ("change", {"name": "Ben Ash", "role": "inspector"}),
            ("password", {"password": NEW}),
        ):
            assert signed_in.get(f"{at}/{page}/").status_code == 200
            response = signed_in.post(f"{at}/{page}/", given)
            assert response.status_code == 302, page
        ben.refresh_from_db()
        assert (ben.name, ben.role, ben.is_active) == ("Ben Ash", "inspector", True)
        assert ben.check_password(NEW)

    def test_a_new_password_keeps_this_place_and_ends_the_others(
        self, signed_in, owner
    ):
        elsewhere = Client()
        elsewhere.force_login(owner, backend=BACKEND)
        given = {"current": PASSWORD, "password": NEW}
        assert signed_in.post("/people/own/password/", given).status_code == 302
        assert is_in(signed_in)
        assert not is_in(elsewhere)

    def test_a_reader_changes_the_own_password_and_nothing_else(self, client, shop):
        reader = factories.PersonFactory(role="reader")
        client.force_login(reader, backend=BACKEND)
        given = {"current": PASSWORD, "password": NEW}
        assert client.post("/people/own/password/", given).status_code == 302
        response = client.post("/people/add/", {})
        assert response.status_code == 403
        assert "signed in as reader" in response.content.decode()

    def test_sets_a_pin(self, signed_in, owner):
        given = {"current": PASSWORD, "pin": "2580"}
        assert signed_in.post("/people/own/pin/", given).status_code == 302
        owner.refresh_from_db()
        assert owner.pin
