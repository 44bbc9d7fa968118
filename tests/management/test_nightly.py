"""Each night a backup, the newest kept; a machine that was off makes up for it."""

import datetime as dt
import io
import os
import subprocess
import sys
import threading
import time

import pytest
from django.db import OperationalError
from django.utils import timezone

from records.management import nightly as module
from records.management.nightly import Nightly, stop_with_input, watch
from records.models import BackupRun
from records.services.backups import NotGood
from records.services.refusal import refuse

pytestmark = pytest.mark.django_db
NOON = dt.datetime(2026, 3, 4, 12, tzinfo=dt.UTC)


@pytest.fixture
def nightly(tmp_path):
    return Nightly(tmp_path / "safe", keep=3)


@pytest.fixture
def taken(monkeypatch):
    """Write files instead of backups, or raise what was laid ready."""
    seen = []

    def take(*, target, at):
        seen.append(target.name)
        if isinstance(taken.fails, Exception):
            raise taken.fails
        target.write_bytes(b"backup")
        return BackupRun.objects.create(at=at, file_name=target.name, good=True)

    def taken():
        return seen

    taken.fails = None
    monkeypatch.setattr(module, "take_backup", take)
    return taken


def good(at):
    BackupRun.objects.create(at=at, file_name="x.zip", good=True)


class TestDue:
    def test_at_two_in_the_shops_own_night(self, nightly):
        # Berlin is at UTC+1 on 4 March 2026 (IANA time zone database).
        with timezone.override("Europe/Berlin"):
            due = nightly.last_due(NOON)
        assert due == dt.datetime(2026, 3, 4, 1, tzinfo=dt.UTC)

    def test_before_two_the_night_before_counts(self, nightly):
        early = dt.datetime(2026, 3, 4, 1, 59, tzinfo=dt.UTC)
        assert nightly.last_due(early) == dt.datetime(2026, 3, 3, 2, tzinfo=dt.UTC)

    def test_where_none_was_ever_made(self, nightly):
        assert nightly.is_due(NOON)

    def test_where_the_machine_was_off_last_night(self, nightly):
        good(dt.datetime(2026, 3, 3, 2, 1, tzinfo=dt.UTC))
        assert nightly.is_due(NOON)

    def test_not_again_the_same_day(self, nightly):
        good(dt.datetime(2026, 3, 4, 2, 1, tzinfo=dt.UTC))
        assert not nightly.is_due(NOON)

    def test_again_where_tonights_was_not_good(self, nightly):
        good(dt.datetime(2026, 3, 3, 2, 1, tzinfo=dt.UTC))
        BackupRun.objects.create(
            at=dt.datetime(2026, 3, 4, 2, 1, tzinfo=dt.UTC),
            file_name="y.zip",
            good=False,
        )
        assert nightly.is_due(NOON)


class TestRotation:
    def test_keeps_the_newest(self, nightly, taken):
        for day in range(5):
            assert nightly.make(NOON + dt.timedelta(days=day), taken().append)
        assert sorted(path.name for path in nightly.folder.iterdir()) == [
            f"book-2026030{d}-120000.zip" for d in (6, 7, 8)
        ]

    def test_leaves_what_is_not_its_own(self, nightly, taken):
        nightly.folder.mkdir()
        (nightly.folder / "family photos.zip").write_text("x")
        for day in range(5):
            nightly.make(NOON + dt.timedelta(days=day), taken().append)
        assert (nightly.folder / "family photos.zip").exists()

    @pytest.mark.parametrize(
        "problem",
        [NotGood([], "kept"), refuse("No space"), OSError("Read-only file system")],
    )
    def test_removes_nothing_for_one_that_failed(self, nightly, taken, problem):
        for day in range(3):
            nightly.make(NOON + dt.timedelta(days=day), taken().append)
        taken.fails = problem
        said = []
        assert not nightly.make(NOON + dt.timedelta(days=9), said.append)
        assert len(list(nightly.folder.iterdir())) == 3
        assert "The nightly backup failed" in said[0]

    def test_lets_a_doubtful_one_go_once_a_good_one_was_made(self, nightly, taken):
        nightly.folder.mkdir()
        doubtful = nightly.folder / "book-20260303-120000.zip.not-good"
        later = nightly.folder / "book-20990303-120000.zip.not-good"
        doubtful.write_text("x")
        later.write_text("x")
        nightly.make(NOON, taken().append)
        assert not doubtful.exists()
        assert later.exists()


class TestWatch:
    @pytest.fixture(autouse=True)
    def at_noon(self, monkeypatch):
        """Let each look at the clock be ten minutes after the one before."""
        self.now = NOON
        monkeypatch.setattr(module.timezone, "now", self.later)
        monkeypatch.setattr(module, "close_old_connections", lambda: None)

    def later(self):
        self.now += dt.timedelta(minutes=10)
        return self.now

    def looks(self, times):
        """Give an event that stops the watch after so many looks."""

        class Stop(threading.Event):
            waits = 0

            def wait(self, _):
                self.waits += 1
                if self.waits == times:
                    self.set()

        return Stop()

    def test_makes_one_and_then_waits_for_the_night(self, nightly, taken):
        watch(nightly, self.looks(50), lambda _: None)
        assert len(taken()) == 1

    def test_makes_one_each_night(self, nightly, taken):
        watch(nightly, self.looks(6 * 24 * 3), lambda _: None)
        assert [name[5:13] for name in taken()] == [
            "20260304",
            "20260305",
            "20260306",
            "20260307",
        ]

    def test_tries_again_after_an_hour(self, nightly, taken):
        taken.fails = refuse("No space")
        watch(nightly, self.looks(6 * 3), lambda _: None)
        assert 3 <= len(taken()) <= 4


def test_a_book_that_cannot_be_read_just_now_is_looked_at_again(nightly, monkeypatch):
    def fails():
        raise OperationalError("the connection is gone")

    monkeypatch.setattr(module, "last_good_backup", fails)
    said = []
    assert not nightly.look(NOON, said.append)
    assert said == ["The nightly backup can't read the book: the connection is gone"]


def test_it_ends_when_whoever_started_it_is_gone(monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.StringIO(""))
    assert stop_with_input().wait(5)


def test_the_command_ends_with_its_input(tmp_path, settings):
    process = subprocess.Popen(
        [sys.executable, "manage.py", "backup", "--attended", "--nightly", "safe"],
        cwd=settings.ROOT,
        env={**os.environ, "SHOPQA_DATA": str(tmp_path)},
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    )
    time.sleep(0.5)
    process.communicate(timeout=60)
    assert process.returncode == 0
