"""Somebody is told while there is still a book to copy."""

import datetime as dt

import pytest

from records.models import BackupRun
from records.rules.backups import backup_is_recent

AT = dt.datetime(2026, 3, 4, 12, tzinfo=dt.UTC)


def run(hours_ago, *, good=True):
    at = AT - dt.timedelta(hours=hours_ago)
    return BackupRun(at=at, file_name="book.zip", good=good)


def said(last, good):
    return " ".join(f.sentence for f in backup_is_recent(last, good, AT))


@pytest.mark.parametrize("hours", [0, 24, 48])
def test_a_recent_good_one_says_nothing(hours):
    assert said(run(hours), run(hours)) == ""


def test_none_at_all_is_said():
    assert "No good backup was ever made" in said(None, None)
    assert "manage.py backup" in said(None, None)


def test_an_old_one_is_said_with_its_age():
    assert "is 3 days old" in said(run(80), run(80))


def test_a_failed_one_is_said_although_there_is_an_earlier_good_one():
    findings = said(run(1, good=False), run(25))
    assert "was not good" in findings
    assert "days old" not in findings


def test_it_warns_and_stops_nobody():
    assert not any(f.blocks for f in backup_is_recent(None, None, AT))
