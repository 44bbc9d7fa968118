"""Every propeller's dossier comes once, and many are no more queries than one."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.documents import dossiers as module
from records.documents.dossiers import dossiers
from tests import factories
from tests.finished import built, made  # noqa: F401

pytestmark = pytest.mark.django_db


def test_what_is_about_another_propeller_is_not_in_it(made):  # noqa: F811
    other = factories.PropellerFactory(serial="other")
    reading = factories.ReadingFactory(propeller=other)
    mine, theirs = dossiers()
    assert theirs.propeller == other
    assert theirs.written.readings == [reading]
    assert reading not in mine.written.readings
    assert {r.subject_kind for r in mine.written.readings} >= {"lot", "board", "blank"}


def test_twenty_more_take_no_more_queries(made):  # noqa: F811
    def queries():
        with CaptureQueriesContext(connection) as seen:
            several = [len(one.written.readings) for one in dossiers()]
        return len(several), len(seen)

    one, few = queries()
    assert one == 1
    for n in range(20):
        propeller = factories.PropellerFactory(serial=f"T-{n}")
        factories.ReadingFactory(propeller=propeller)
    assert queries() == (21, few)


def test_every_one_comes_once_however_many_are_read_at_a_time(made, monkeypatch):  # noqa: F811
    monkeypatch.setattr(module, "AT_ONCE", 3)
    serials = [factories.PropellerFactory(serial=f"T-{n}").serial for n in range(10)]
    first = made.propeller.serial
    assert [one.propeller.serial for one in dossiers()] == [first, *serials]
