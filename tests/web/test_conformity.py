"""Releasing and issuing on screens, and the public check of a paper."""

import datetime as dt

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from records.documents.keys import make_keys
from records.documents.spelling import in_groups
from records.models import ConformityRecord, Propeller, Shop
from records.queries.files import read_kept
from records.services.conformity.release import release_propeller
from records.web.shared import limits
from tests import factories, finished

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made
BACKEND = "django.contrib.auth.backends.ModelBackend"
PASSWORD = factories.PASSWORD


@pytest.fixture
def keys(settings, made):
    return make_keys(settings.DATA, "Test Airscrew Works", made.act.at)


@pytest.fixture
def office(client, made):
    """A client with the maker signed in, who has every authority."""
    client.force_login(made.maker, backend=BACKEND)
    return client


@pytest.fixture
def released(made):
    release_propeller(act=made.act, propeller=made.propeller)
    return made.propeller


@pytest.fixture
def issued(office, released, keys):
    answer = office.post(
        reverse("conformity:issue", args=[released.serial]),
        {"place": "Millbrook", "packing": "Sealed bag", "password": PASSWORD},
    )
    assert answer.status_code == 302, answer.content.decode()
    return ConformityRecord.objects.get(propeller=released)


def text(answer):
    return answer.content.decode().replace("\xa0", " ")


def test_a_finished_propeller_is_released_with_the_password_again(office, made):
    page = reverse("conformity:release", args=[made.propeller.serial])
    assert "nothing speaks against it" in text(office.get(page))
    answer = office.post(page, {"password": PASSWORD})
    assert answer.url == reverse("conformity:issue", args=[made.propeller.serial])
    assert Propeller.objects.get(pk=made.propeller.pk).state == "released"


def test_a_wrong_password_releases_nothing(office, made):
    page = reverse("conformity:release", args=[made.propeller.serial])
    answer = office.post(page, {"password": "something else"})
    assert answer.status_code == 422
    assert Propeller.objects.get(pk=made.propeller.pk).state == "in_work"


def test_every_reason_stands_on_the_page_with_a_link(office, made):
    bare = factories.PropellerFactory(blank=made.propeller.blank, serial="2026-002")
    shown = text(office.get(reverse("conformity:release", args=[bare.serial])))
    assert "Rough shape of propeller 2026-002 is not signed." in shown
    log = reverse("readings:log", args=["propeller", "2026-002"])
    assert f"{log}?stage=hub&amp;characteristic=thickness" in shown
    assert "disabled" in shown


def test_an_open_deviation_links_to_itself(office, made):
    deviation = factories.DeviationFactory(number="D0009", title="Dent")
    factories.DeviationSubjectFactory(deviation=deviation, propeller=made.propeller)
    shown = text(office.get(reverse("conformity:release", args=["2026-001"])))
    assert "Deviation D0009 is open: Dent." in shown
    assert reverse("deviations:deviation", args=["D0009"]) in shown


def test_a_record_is_issued_and_its_bytes_are_sent(office, issued):
    shown = text(office.get(reverse("conformity:record", args=[issued.number])))
    assert "in force" in shown
    assert in_groups(issued.facts_digest) in shown
    pdf = office.get(reverse("conformity:pdf", args=[issued.number]))
    assert pdf["Content-Type"] == "application/pdf"
    assert pdf.content == read_kept(issued.pdf)


def test_without_keys_the_page_says_what_to_do(office, released):
    page = reverse("conformity:issue", args=[released.serial])
    answer = office.post(page, {"place": "Millbrook", "password": PASSWORD})
    assert answer.status_code == 422
    assert "manage.py new_keys" in text(answer)


def test_a_second_issue_asks_why_and_replaces_the_first(office, issued):
    page = reverse("conformity:issue", args=[issued.propeller.serial])
    answer = office.post(page, {"place": "Millbrook", "password": PASSWORD})
    assert answer.status_code == 422
    answer = office.post(
        page, {"place": "Millbrook", "reason": "Paper lost", "password": PASSWORD}
    )
    assert answer.status_code == 302
    shown = text(office.get(reverse("conformity:record", args=[issued.number])))
    assert "replaced by CR00002" in shown


def test_a_record_is_withdrawn_with_a_reason(office, issued):
    page = reverse("conformity:withdraw", args=[issued.number])
    now = dt.datetime.now(dt.UTC).strftime("%Y-%m-%dT%H:%M")
    assert office.post(page, {"reason": "", "happened_at": now}).status_code == 422
    answer = office.post(page, {"reason": "Wrong mass", "happened_at": now})
    assert answer.status_code == 302, text(answer)
    assert "withdrawn" in text(
        office.get(reverse("conformity:record", args=[issued.number]))
    )


def test_the_list_finds_a_record_and_does_not_ask_more_for_more_rows(
    office, issued, django_assert_max_num_queries
):
    page = reverse("conformity:records")
    assert issued.number in text(office.get(page, {"text": "2026-001"}))
    assert issued.number not in text(office.get(page, {"text": "nothing like it"}))
    for n in range(20):
        factories.ConformityRecordFactory(number=f"X{n}")
    with django_assert_max_num_queries(8):
        office.get(page)


def test_the_build_record_is_drawn(office, made):
    answer = office.get(reverse("conformity:build_record", args=["2026-001"]))
    assert answer.content.startswith(b"%PDF-1.7")


def test_a_reader_sees_and_releases_nothing(client, made):
    reader = factories.PersonFactory(role="reader")
    client.force_login(reader, backend=BACKEND)
    page = reverse("conformity:release", args=["2026-001"])
    assert "a reader may not" in text(client.get(page))
    assert client.post(page, {"password": PASSWORD}).status_code == 403


# The public check


def upload(data):
    return SimpleUploadedFile("record.pdf", data, content_type="application/pdf")


def test_a_stranger_proves_a_paper_genuine(client, issued):
    client.logout()
    answer = client.post(
        reverse("conformity:check"), {"paper": upload(read_kept(issued.pdf))}
    )
    assert answer.status_code == 200
    assert "genuine" in text(answer)
    assert "Every byte is as the shop issued it." in text(answer)
    assert "in force" in text(answer)


def test_a_stranger_finds_a_changed_paper(client, issued):
    client.logout()
    data = bytearray(read_kept(issued.pdf))
    data[len(data) // 2] ^= 1
    answer = client.post(reverse("conformity:check"), {"paper": upload(bytes(data))})
    assert "not genuine" in text(answer)


def test_a_withdrawn_paper_is_genuine_and_said_to_be_withdrawn(client, office, issued):
    now = dt.datetime.now(dt.UTC).strftime("%Y-%m-%dT%H:%M")
    office.post(
        reverse("conformity:withdraw", args=[issued.number]),
        {"reason": "Wrong mass", "happened_at": now},
    )
    client.logout()
    answer = client.post(
        reverse("conformity:check"), {"paper": upload(read_kept(issued.pdf))}
    )
    assert "genuine" in text(answer)
    assert "withdrawn" in text(answer)
    assert "Wrong mass" not in text(answer)


@pytest.mark.parametrize("what", ["number", "digest"])
def test_what_is_printed_is_looked_up(client, issued, what):
    client.logout()
    digest = in_groups(issued.facts_digest)
    printed = issued.number.lower() if what == "number" else digest
    answer = client.post(reverse("conformity:check"), {"printed": printed})
    assert "in the book" in text(answer)
    assert digest in text(answer)


@pytest.mark.parametrize("given", [{}, {"printed": "CR99999"}, {"printed": "\x00'--"}])
def test_nothing_or_nonsense_gets_a_sentence(client, issued, given):
    client.logout()
    answer = client.post(reverse("conformity:check"), given)
    assert answer.status_code in {200, 422}
    assert "genuine" in text(answer) or "Choose the file" in text(answer)


def test_the_public_key_is_given_to_anybody(client, issued, keys):
    client.logout()
    answer = client.get(reverse("conformity:key", args=[keys.public.name]))
    assert answer.json()["name"] == keys.public.name
    assert "d" not in answer.json()["jwk"]
    assert "PRIVATE" not in answer.content.decode()


def test_no_private_name_is_on_the_check_page(client, issued):
    client.logout()
    Shop.objects.update(contact="office")
    shown = text(client.get(reverse("conformity:check")))
    assert "Mara Holt" not in shown


def test_strangers_check_a_few_papers_and_no_more(client, issued):
    client.logout()
    asked = {"printed": issued.number}
    for _ in range(limits.MOST):
        assert client.post("/check/", asked).status_code == 200
    assert client.post("/check/", asked).status_code == 429
    assert client.get("/check/").status_code == 200
