"""Signing as somebody at a screen meets it."""

import html
import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.models import RefusedSignature, SignOff
from records.queries.builds.progress import progress_of
from tests import factories
from tests.factories import PASSWORD

pytestmark = pytest.mark.django_db
PATH = "/signoffs/propeller/2026-001/shape/"


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory(serial="2026-001")


@pytest.fixture
def characteristic(propeller):
    stage = factories.StageFactory(
        revision=propeller.blank.route, code="shape", name="Shape", hold_point=True
    )
    return factories.CharacteristicFactory(stage=stage, name="Track")


@pytest.fixture
def read(characteristic, propeller):
    """Somebody else has read what the stage asks for."""
    maker = factories.PersonFactory()
    return factories.ReadingFactory(
        characteristic=characteristic, propeller=propeller, written_by=maker
    )


def text(response):
    plain = re.sub(r"<[^>]+>", " ", response.content.decode())
    return html.unescape(re.sub(r"\s+", " ", plain))


def given(client, **changes):
    digest = re.search(
        r'name="seen_digest" value="(\w{64})"', client.get(PATH).content.decode()
    )
    return {
        "meaning": "I inspected this, and it is as required.",
        "check_kind": "independent",
        "password": PASSWORD,
        "seen_digest": digest.group(1) if digest else "",
        **changes,
    }


def test_what_is_missing_bars_the_button_and_says_why(signed_in, characteristic):
    response = signed_in.get(PATH)
    shown = text(response)
    assert "Track is missing." in shown
    assert "One thing is missing: see above." in shown
    assert "HOLD POINT" in shown
    assert b'name="password"' not in response.content
    assert "Log what is missing" in shown


def test_the_page_shows_what_is_covered_and_which_check_it_would_be(signed_in, read):
    shown = text(signed_in.get(PATH))
    assert "ready to sign" in shown
    assert "1.0 mm" in shown
    assert "You had no hand in it." in shown
    assert "independent person" in shown


def test_a_signature_is_made_with_the_password_again(signed_in, read, owner):
    response = signed_in.post(PATH, given(signed_in), follow=True)
    assert "Shape is signed." in text(response)
    signoff = SignOff.objects.get()
    assert (signoff.written_by, signoff.method) == (owner, "password")
    assert signoff.check_kind == "independent"


def test_a_wrong_password_signs_nothing_and_is_written_down(signed_in, read):
    response = signed_in.post(PATH, given(signed_in, password="wrong"))
    assert response.status_code == 422
    assert "This password is not right." in text(response)
    assert not SignOff.objects.exists()
    assert "not right" in RefusedSignature.objects.get().why


def test_a_pin_counts_on_a_bench_device_only(signed_in, read):
    assert b'name="pin"' not in signed_in.get(PATH).content
    answer = signed_in.post(PATH, given(signed_in, password="", pin="2580"))
    assert answer.status_code == 422
    assert not SignOff.objects.exists()


def test_what_changed_since_the_page_was_opened_is_looked_at_again(
    signed_in, read, characteristic, propeller
):
    answers = given(signed_in)
    factories.ReadingFactory(
        characteristic=characteristic, propeller=propeller, written_by=read.written_by
    )
    response = signed_in.post(PATH, answers)
    assert "has changed since the page was opened" in text(response)
    assert not SignOff.objects.exists()


def test_who_took_the_reading_is_offered_no_independent_check(
    signed_in, characteristic, propeller, owner
):
    factories.ReadingFactory(
        characteristic=characteristic, propeller=propeller, written_by=owner
    )
    page = signed_in.get(PATH).content.decode()
    assert 'value="independent"' not in page
    assert "you may look again from" in page
    answers = given(signed_in, check_kind="independent")
    assert signed_in.post(PATH, answers).status_code == 422


def test_where_no_check_suffices_the_button_says_when(
    signed_in, characteristic, propeller, owner
):
    strict = factories.StageFactory(
        revision=characteristic.stage.revision, code="release", check_kind="independent"
    )
    other = factories.CharacteristicFactory(stage=strict)
    for one in (characteristic, other):
        factories.ReadingFactory(
            characteristic=one, propeller=propeller, written_by=owner
        )
    [state] = [
        s for s in progress_of(propeller).states if s.stage == characteristic.stage
    ]
    factories.SignOffFactory(
        stage=characteristic.stage, propeller=propeller, digest=state.digest()
    )
    shown = text(signed_in.get("/signoffs/propeller/2026-001/release/"))
    assert "This stage needs at least: independent person." in shown
    assert "Sign This stage needs" in shown


def test_without_authority_the_button_says_so(client, read):
    maker = factories.PersonFactory(name="Bo Maker")
    client.force_login(maker, backend="django.contrib.auth.backends.ModelBackend")
    shown = text(client.get(PATH))
    assert "Bo Maker has no authority to sign off stages" in shown


def test_a_void_signature_shows_as_void_and_asks_for_a_new_one(
    signed_in, read, characteristic, propeller
):
    signed_in.post(PATH, given(signed_in))
    signoff = SignOff.objects.get()
    page = f"/signoffs/{signoff.pk}/"
    assert "stands" in text(signed_in.get(page))
    factories.ReadingFactory(
        characteristic=characteristic, propeller=propeller, written_by=read.written_by
    )
    shown = text(signed_in.get(page))
    assert "Void: what it covers has changed since" in shown
    assert "Sign again" in shown
    assert "signature void: sign again" in text(signed_in.get(PATH))
    signed_in.post(PATH, given(signed_in))
    assert SignOff.objects.count() == 2


@pytest.mark.parametrize(
    "path",
    [
        "/signoffs/propeller/2026-001/nothing/",
        "/signoffs/propeller/9999/shape/",
        "/signoffs/mix/M1/shape/",
        "/signoffs/9999/",
    ],
)
def test_what_is_not_there_is_not_found(signed_in, characteristic, path):
    assert signed_in.get(path).status_code == 404


def queries(client, path):
    with CaptureQueriesContext(connection) as context:
        assert client.get(path).status_code == 200
    return len(context)


def refused_attempt(characteristic, propeller):
    return RefusedSignature.objects.create(
        stage=characteristic.stage,
        propeller=propeller,
        happened_at=factories.NOON,
        why="Track is missing.",
        written_by=factories.PersonFactory(),
        written_at=factories.NOON,
    )


@pytest.mark.parametrize("path", ["/signoffs/", "/signoffs/refused/"])
def test_lists_take_as_many_queries_for_20_rows(
    signed_in, characteristic, propeller, path
):
    def more(rows):
        for _ in range(rows):
            factories.SignOffFactory(stage=characteristic.stage, propeller=propeller)
            refused_attempt(characteristic, propeller)

    more(1)
    signed_in.get(path)
    few = queries(signed_in, path)
    more(19)
    assert queries(signed_in, path) == few


def test_refused_attempts_are_found_by_their_reason(
    signed_in, characteristic, propeller
):
    refused_attempt(characteristic, propeller)
    result = signed_in.get("/signoffs/refused/?text=missing").context["table"]
    assert len(result.rows) == 1
    assert not signed_in.get("/signoffs/refused/?text=held").context["table"].rows


def test_the_page_to_sign_takes_as_many_queries_for_many(
    signed_in, characteristic, propeller, read
):
    signed_in.get(PATH)
    few = queries(signed_in, PATH)
    for _ in range(20):
        factories.ReadingFactory(characteristic=characteristic, propeller=propeller)
    assert queries(signed_in, PATH) == few
