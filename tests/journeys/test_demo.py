"""The demo: it loads, it is the same every time, and every page of it opens."""

import datetime as dt
import io
import os
import re
from collections import deque
from html import unescape

import pytest
from django.core.management import CommandError, call_command
from django.db import transaction
from django.test import Client, override_settings
from django.urls import reverse
from pypdf import PdfReader

from records.management.demo.story import play
from records.management.demo.workshop import KEEPER
from records.models import (
    Blank,
    ConformityRecord,
    Deviation,
    Lot,
    Mix,
    Person,
    Propeller,
    Tag,
)
from records.queries.reach.holds import held_propellers
from records.rules.integrity import breaks
from tests.journeys.golden import FOLDER, drawing_into, kept, outputs

BACKEND = "django.contrib.auth.backends.ModelBackend"
NOW = dt.datetime(2026, 6, 30, 16, 0, tzinfo=dt.UTC)
LINK = re.compile(r'<a\b[^>]*\bhref="(/[^"#]*)')
# A page a kind is enough: lists link every row.
MOST_OF_A_KIND = 2


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("demo")


def storage(folder):
    files = {
        "BACKEND": "django.core.files.storage.FileSystemStorage",
        "OPTIONS": {"location": folder / "files"},
    }
    static = "django.contrib.staticfiles.storage.StaticFilesStorage"
    return override_settings(
        DATA=folder,
        STORAGES={"default": files, "staticfiles": {"BACKEND": static}},
        PASSWORD_HASHERS=["django.contrib.auth.hashers.MD5PasswordHasher"],
    )


@pytest.fixture(scope="module")
def loaded(folder, django_db_setup, django_db_blocker):
    """Load the demo once for all that look at it; give what was said meanwhile."""
    said = []
    with django_db_blocker.unblock(), transaction.atomic(), storage(folder):
        play(seed=60, now=NOW, said=said.append)
        yield said
        transaction.set_rollback(True)


@pytest.fixture
def demo(loaded, folder, db):
    with storage(folder):
        yield loaded


def states():
    return set(Propeller.objects.values_list("state", flat=True))


def test_the_demo_has_a_serial_in_every_state_worth_seeing(demo):
    assert Propeller.objects.count() >= 12
    assert states() >= {"in_work", "released", "delivered", "returned", "scrapped"}
    assert {b.state for b in Blank.objects.all()} >= {"gluing", "pressed", "shaped"}
    assert held_propellers().count() >= 2
    assert ConformityRecord.objects.filter(replaced_by__isnull=False).count() >= 1
    second = [b for b in Blank.objects.all() if mixes_in(b) == 2]
    assert second
    dips = [load for blank in Blank.objects.all() for load in flagged_loads(blank)]
    assert any("Pressure below" in flags for flags in dips)
    assert Lot.objects.filter(state="waiting").exists()
    assert Lot.objects.filter(supplier_lot="").exists()
    assert len(demo) > 10


def mixes_in(blank):
    return Mix.objects.filter(spreads__blank=blank).distinct().count()


def flagged_loads(blank):
    return blank.loaded.values_list("load__opened_flags", flat=True)


def test_nothing_in_it_was_changed_behind_the_programs_back(demo):
    assert list(breaks()) == []


def test_it_goes_into_an_empty_book_only(demo):
    with pytest.raises(CommandError, match="into an empty book only"):
        call_command("seed_demo")


@pytest.mark.once
def test_every_page_that_is_linked_opens(demo):
    client = Client()
    client.force_login(Person.objects.get(login=KEEPER), backend=BACKEND)
    waiting, seen, wrong = deque(["/"]), {"/"}, []
    kinds = {}
    while waiting:
        path = waiting.popleft()
        answer = client.get(path)
        if answer.status_code >= 400:
            wrong.append((path, answer.status_code))
        if "text/html" not in answer.get("Content-Type", ""):
            continue
        html = b"".join(answer) if answer.streaming else answer.content
        for link in LINK.findall(html.decode()):
            page = unescape(link)
            kind = kind_of(page)
            if page not in seen and kinds.get(kind, 0) < MOST_OF_A_KIND:
                kinds[kind] = kinds.get(kind, 0) + 1
                seen.add(page)
                waiting.append(page)
    assert wrong == []
    assert len(seen) > 100


def kind_of(page):
    """Name an address without its numbers: one kind of page each."""
    path, _, query = page.partition("?")
    names = sorted(re.findall(r"(\w+)=", query))
    return re.sub(r"[^/]*\d[^/]*", "#", path), tuple(names)


@pytest.mark.once
def test_everything_that_goes_on_paper_is_printed(demo, client):
    client.force_login(Person.objects.get(login=KEEPER), backend=BACKEND)
    for path in papers():
        answer = client.get(path)
        assert answer["Content-Type"] == "application/pdf", path
        data = b"".join(answer) if answer.streaming else answer.content
        assert len(PdfReader(io.BytesIO(data)).pages) >= 1, path


def papers():
    """Name each kind of paper, for things in several states."""
    yield from (
        reverse("conformity:pdf", args=[record.number])
        for record in ConformityRecord.objects.order_by("pk")[:3]
    )
    for state in ("delivered", "scrapped"):
        serial = Propeller.objects.filter(state=state).first().serial
        yield reverse("conformity:build_record", args=[serial])
    for deviation in Deviation.objects.order_by("pk")[:2]:
        yield reverse("deviations:report", args=[deviation.number])
    tag = Tag.objects.filter(propeller__isnull=False).first()
    serial = tag.propeller.serial
    yield reverse("tags:card_pdf", args=["propeller", serial])
    yield f"{reverse('tags:print_labels')}?tags={tag.pk}&sheet=a4&size=20"


@pytest.mark.once
def test_every_text_is_as_it_was_when_it_was_last_read(demo, client, monkeypatch):
    drawn = []
    monkeypatch.setattr("django.utils.timezone.now", lambda: NOW)
    monkeypatch.setattr("records.documents.pdf._run", drawing_into(drawn))
    client.force_login(Person.objects.get(login=KEEPER), backend=BACKEND)
    texts = {kept(name): text for name, text in outputs(client, drawn)}
    if os.environ.get("GOLDEN") == "write":
        for old in FOLDER.glob("*.txt"):
            old.unlink()
        for path, text in texts.items():
            path.write_text(text)
    assert {path.name for path in FOLDER.glob("*.txt")} == {p.name for p in texts}
    other = [p.name for p, text in texts.items() if p.read_text() != text]
    assert other == []
