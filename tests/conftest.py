"""What every test stands on: its own folder for files, and a shop with an owner."""

import datetime as dt
import gc
import json
import os
import re
import threading
import warnings
from unittest.mock import patch

import hypothesis
import pytest
from django.core.cache import cache
from django.core.management.commands import flush
from django.utils import timezone
from PIL import ImageFile
from playwright.sync_api import sync_playwright

from records.documents.drawing import draw
from records.models.guards import install_guards, remove_guards
from records.services.ledger import Act
from tests import factories

LONGEST = {"test_whole_job", "test_demo"}
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")  # Playwright's loop
hypothesis.settings.register_profile(  # a busy machine is no failure
    "steady", deadline=None, suppress_health_check=[hypothesis.HealthCheck.too_slow]
)
hypothesis.settings.load_profile("steady")


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items):
    """Begin with the longest: nobody waits for them at the end."""
    items.sort(key=lambda item: item.path.stem not in LONGEST)


def pytest_collection_finish():
    """Spare the collector what stays to the end: thousands of tests."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)


@pytest.fixture(autouse=True)
def own_folder(settings, tmp_path):
    """Keep files, keys and static files of a test in a folder of its own.

    What strangers looked up in another test is forgotten.
    """
    cache.clear()
    settings.DATA = tmp_path
    settings.STORAGES = {
        "default": {
            "BACKEND": "django.core.files.storage.FileSystemStorage",
            "OPTIONS": {"location": tmp_path / "files"},
        },
        "staticfiles": {
            "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        },
    }
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


def drawn_here(job, drawn_at):
    """Draw a PDF in the test's own process, where WeasyPrint is imported once."""
    epoch = {"SOURCE_DATE_EPOCH": str(int(drawn_at.timestamp()))}
    with patch.dict(os.environ, epoch), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        pdf = draw(json.loads(job))
    ImageFile.LOAD_TRUNCATED_IMAGES = False  # WeasyPrint sets it for everybody
    return pdf


def drawn_short(job, drawn_at):
    """Draw a PDF with the right title and enclosures, but one line of text."""
    whole = json.loads(job)
    title = re.search(r"<title>.*?</title>", whole["html"], re.S)
    whole["html"] = (
        f'<html lang="en">{title[0] if title else ""}<p>One line.</p></html>'
    )
    return drawn_here(json.dumps(whole), drawn_at)


@pytest.fixture(autouse=True)
def drawing_is_spared(request, monkeypatch):
    """Draw whole pages only where pages are looked at: it takes a second each."""
    if request.node.get_closest_marker("own_process"):
        return
    read = not {"documents", "journeys"}.isdisjoint(request.path.parts)
    read = read or request.node.get_closest_marker("whole_pages")
    by = drawn_here if read else drawn_short
    monkeypatch.setattr("records.documents.pdf._run", by)


@pytest.fixture(scope="session", autouse=True)
def guards_lifted_for_flush():
    """Let a flush between tests empty the guarded tables, and only that."""
    handle = flush.Command.handle

    def handle_without_guards(self, **options):
        remove_guards(options["database"])
        try:
            return handle(self, **options)
        finally:
            install_guards(options["database"])

    flush.Command.handle = handle_without_guards
    yield
    flush.Command.handle = handle


@pytest.fixture
def shop(db):
    """Open a shop with its settings row."""
    return factories.ShopFactory()


@pytest.fixture
def owner(shop):
    """Give the owner, who has every authority."""
    return factories.owner()


@pytest.fixture
def act(owner):
    """Act as the owner, now."""
    return Act(by=owner, at=timezone.now())


@pytest.fixture
def signed_in(client, owner):
    """Give a test client with the owner signed in."""
    client.force_login(owner, backend="django.contrib.auth.backends.ModelBackend")
    return client


@pytest.fixture
def noon():
    """Give a fixed moment in the past for things that happened at the bench."""
    return dt.datetime(2026, 3, 2, 12, 0, tzinfo=dt.UTC)


@pytest.fixture(scope="module")
def browser():
    """Start Debian's Chromium, and see that no thread still answers it afterwards.

    A module's own: while it runs, its loop is the whole process's. No sandbox, for
    root has none.
    """
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(
            executable_path="/usr/bin/chromium",
            args=[
                "--no-sandbox",
                "--disable-gpu",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
                "--no-first-run",
            ],
        )
        yield chromium
        chromium.close()
    for thread in threading.enumerate():
        if "process_request_thread" in thread.name:
            thread.join(5)
