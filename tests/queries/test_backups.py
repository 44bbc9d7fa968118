"""Which backup was the last, and which the last good one."""

import datetime as dt

import pytest

from records.models import BackupRun
from records.queries.backups import last_backups, last_good_backup

pytestmark = pytest.mark.django_db


def run(day, *, good=True):
    at = dt.datetime(2026, 3, day, 2, tzinfo=dt.UTC)
    return BackupRun.objects.create(at=at, file_name=f"{day}.zip", good=good)


def test_there_is_none_before_the_first():
    assert last_good_backup() is None
    assert last_backups(5) == []


def test_a_failed_one_is_listed_but_is_not_the_last_good_one():
    first, second, failed = run(2), run(3), run(4, good=False)
    assert last_good_backup() == second
    assert last_backups(2) == [failed, second]
    assert last_backups(9) == [failed, second, first]
