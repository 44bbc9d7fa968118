import datetime as dt

import pytest

from records.rules import moments

NOW = dt.datetime(2026, 3, 2, 12, 0, tzinfo=dt.UTC)


def test_what_happened_or_happens_now_can_be_true():
    assert moments.already_happened(NOW, NOW) == []
    assert moments.already_happened(NOW - dt.timedelta(days=3), NOW) == []


def test_what_is_still_to_come_has_not_happened():
    soon = NOW + dt.timedelta(minutes=1)
    [finding] = moments.already_happened(soon, NOW, "mixed_at")
    assert finding.field == "mixed_at"
    assert finding.blocks
    assert "12:01 is still to come" in finding.sentence


def test_a_year_of_another_century_is_a_slip_of_the_pen():
    long_ago = NOW.replace(year=226)
    [finding] = moments.already_happened(long_ago, NOW)
    assert "226" in finding.sentence


def test_a_day_that_has_come_can_be_true():
    assert moments.day_has_come(NOW.date(), NOW.date(), "received_on") == []


@pytest.mark.parametrize(
    ("day", "says"),
    [(dt.date(2026, 3, 3), "still to come"), (dt.date(226, 3, 3), "slip of the pen")],
)
def test_a_day_that_can_not_be_true_is_named(day, says):
    [finding] = moments.day_has_come(day, NOW.date(), "received_on")
    assert says in finding.sentence
    assert finding.field == "received_on"
