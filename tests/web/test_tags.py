"""A scan opens the history at work, the public page elsewhere, never private data."""

import pytest
from django.core.cache import cache
from django.urls import reverse

from records.documents.tags.labels import link_for
from records.models import Propeller, Tag
from records.services.tags import tag_for
from records.web.shared import limits
from tests import factories, finished
from tests.documents import reading

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made
BACKEND = "django.contrib.auth.backends.ModelBackend"


@pytest.fixture(autouse=True)
def fresh_count():
    cache.clear()


@pytest.fixture
def tag(made):
    return tag_for(act=made.act, thing=made.propeller)


@pytest.fixture
def office(client, made):
    client.force_login(made.maker, backend=BACKEND)
    return client


def text(answer):
    return answer.content.decode().replace("\xa0", " ")


def path(tag, number="2026-001"):
    link = link_for("http://localhost:8000", tag.code, number)
    return link.removeprefix("HTTP://LOCALHOST:8000")


def test_the_link_as_printed_in_capitals_opens_the_history(office, tag):
    assert path(tag) == f"/T/{tag.code}/2026-001"
    answer = office.get(path(tag))
    assert answer.url == reverse("trace:serial", args=["2026-001"])
    assert office.get(path(tag).lower()).url == answer.url


def test_a_stranger_sees_the_public_page_and_nothing_private(client, made, tag):
    owner = factories.OwnerFactory(name="Private Person", contact="555 0100")
    factories.m.Ownership.objects.create(
        propeller=made.propeller,
        owner=owner,
        happened_at=factories.NOON,
        written_at=factories.NOON,
        written_by=made.maker,
    )
    shown = text(client.get(path(tag)))
    for part in ("TA-", "2026-001", "being made", "Do not fit it", "24 N·m", "Caution"):
        assert part in shown
    for part in ("Private Person", "555 0100", "Mara Holt", "Ines Perrot", "Supplier"):
        assert part not in shown


@pytest.mark.parametrize(
    ("state", "word"),
    [
        ("in_work", "being made"),
        ("released", "released by its maker"),
        ("delivered", "delivered"),
        ("returned", "back with its maker"),
        ("retired", "taken out of service"),
        ("scrapped", "scrapped"),
    ],
)
def test_each_state_is_said_in_plain_words(client, made, tag, state, word):
    Propeller.objects.filter(pk=made.propeller.pk).update(state=state)
    assert word in text(client.get(path(tag)))


def test_a_hold_is_said_without_its_reason(client, made, tag):
    Propeller.objects.filter(pk=made.propeller.pk).update(state="delivered")
    lot = made.propeller.blank.spreads.first().mix.resin_lot
    factories.HoldFactory(lot=lot, reason="tin froze in the van")
    shown = text(client.get(path(tag)))
    assert "under question" in shown
    assert "froze" not in shown


def test_a_notice_that_forbids_flying_comes_first(client, made, tag):
    Propeller.objects.filter(pk=made.propeller.pk).update(state="delivered")
    pen = {"written_at": factories.NOON, "written_by": made.maker}
    notice = factories.m.Notice.objects.create(
        number="N001",
        title="Hub cracks",
        text="Look at the hub.",
        do_not_fly=True,
        happened_at=factories.NOON,
        **pen,
    )
    row = factories.m.NoticeSerial.objects.create(
        notice=notice, propeller=made.propeller, **pen
    )
    shown = text(client.get(path(tag)))
    assert "do not fly" in shown
    assert "Look at the hub." in shown
    factories.m.NoticeStep.objects.create(
        serial=row, kind="done", happened_at=factories.NOON, **pen
    )
    assert "do not fly" not in text(client.get(path(tag)))


def test_a_revised_torque_card_is_shown_beside_the_one_supplied(client, made, tag):
    revision = made.propeller.revision
    assert "current" not in text(client.get(path(tag)))
    factories.RevisionFactory(
        design=revision.design, number="B", torque_low_nm=20, torque_high_nm=22
    )
    shown = text(client.get(path(tag)))
    assert "24 N·m" in shown
    assert "20 N·m" in shown
    assert "current (revision B)" in shown


def test_other_things_only_say_whose_tag_it_is(client, made):
    board = made.propeller.blank.laminations.first().board
    tag = tag_for(act=made.act, thing=board)
    shown = text(client.get(path(tag, board.number)))
    assert "A tag of Test Airscrew Works" in shown
    assert "Yellow birch" not in shown
    client.force_login(made.maker, backend=BACKEND)
    answer = client.get(path(tag, board.number))
    assert answer.url == reverse("boards:board", args=[board.number])


def test_a_tag_of_a_lost_book_still_opens_by_its_serial(client, office, made):
    answer = office.get("/T/0000000000000000/2026-001")
    assert answer.url == reverse("trace:serial", args=["2026-001"])
    office.logout()
    assert "being made" in text(client.get("/T/0000000000000000/2026-001"))


def test_an_unknown_tag_is_not_found_and_says_so(client, made):
    answer = client.get("/T/0000000000000000/NOSUCH")
    assert answer.status_code == 404
    assert "not known here" in text(answer)


def test_strangers_look_up_a_few_serials_and_no_more(client, made):
    page = reverse("tags:lookup")
    for _ in range(limits.MOST):
        assert client.get(page, {"serial": "2026-0"}).status_code == 200
    answer = client.get(page, {"serial": "2026-001"})
    assert answer.status_code == 429
    assert answer["Retry-After"] == "600"
    assert client.get("/T/0000000000000000/2026-001").status_code == 429


def test_a_stranger_finds_by_the_whole_serial_only(client, made):
    page = reverse("tags:lookup")
    assert "No propeller" in text(client.get(page, {"serial": "2026-00"}))
    assert "being made" in text(client.get(page, {"serial": "2026-001"}))


@pytest.mark.parametrize(
    "typed",
    [
        "2026-001",
        "026-001",
        "{code}",
        "{spaced}",
        "HTTP://OLD.EXAMPLE/T/{code}/2026-001",
        "https://new.example/t/0000000000000000/2026-001",
    ],
)
def test_one_box_takes_serials_parts_codes_and_whole_links(office, tag, typed):
    spaced = " ".join(tag.code[i : i + 4] for i in range(0, 16, 4)).lower()
    asked = typed.format(code=tag.code, spaced=spaced)
    answer = office.get(reverse("tags:scan"), {"q": asked})
    assert answer.url == reverse("trace:serial", args=["2026-001"])


def test_the_box_lists_several_and_says_when_there_is_none(office, made):
    factories.PropellerFactory(blank=made.propeller.blank, serial="2026-002")
    page = reverse("tags:scan")
    shown = text(office.get(page, {"q": "2026-00"}))
    assert "propeller 2026-001" in shown
    assert "propeller 2026-002" in shown
    assert "Nothing in the book is called xyz" in text(office.get(page, {"q": "xyz"}))


def test_the_box_is_for_people_at_work(client, made):
    assert "/sign-in/" in client.get(reverse("tags:scan"), {"q": "2026-001"}).url


@pytest.mark.whole_pages
def test_labels_get_tags_and_are_printed(office, made):
    board = made.propeller.blank.laminations.first().board
    answer = office.post(
        reverse("tags:labels"),
        {
            "numbers": f"2026-001\nboard {board.number}",
            "sheet": "a4",
            "copies": "2",
            "start": "1",
            "size_mm": "20",
        },
    )
    assert answer.status_code == 302, text(answer)
    (page,) = reading.pages(office.get(answer.url).content)
    read = reading.tags(page)
    assert len(read) == 4
    assert read[0] == read[1]
    assert read[0].endswith("/2026-001")
    assert read[2].endswith(f"/{board.number}")
    assert Tag.objects.count() == 2


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"numbers": "NOSUCH"}, "Nothing in the book is called NOSUCH."),
        ({"size_mm": "14"}, "At least 15."),
        ({"start": "22"}, "This sheet has labels 1 to 21."),
        ({"copies": "0"}, "At least 1."),
        ({"numbers": ""}, "This is needed."),
    ],
)
def test_a_wrong_label_form_keeps_what_was_typed(office, made, changes, sentence):
    given = {
        "numbers": "2026-001",
        "sheet": "a4",
        "copies": "1",
        "start": "1",
        "size_mm": "20",
    } | changes
    answer = office.post(reverse("tags:labels"), given)
    assert answer.status_code == 422
    assert sentence in text(answer)
    assert not Tag.objects.exists()


def test_bad_addresses_of_the_print_page_get_a_sentence(office, made):
    page = reverse("tags:print_labels")
    for asked in ({}, {"tags": "x"}, {"tags": "1", "copies": "many"}, {"size": "nan"}):
        assert office.get(page, asked).status_code == 422


@pytest.mark.whole_pages
def test_a_travel_card_carries_its_tag(office, made):
    at = ["blank", made.propeller.blank.number]
    assert office.get(reverse("tags:card_pdf", args=at)).status_code == 404
    answer = office.post(reverse("tags:card", args=at), {"form_key": ""})
    pdf = office.get(answer.url).content
    first = reading.pages(pdf)[0]
    code = Tag.objects.get(blank=made.propeller.blank).code
    assert code in reading.tags(first)[0]
