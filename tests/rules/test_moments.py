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


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0, "0 s"),
        (45, "45 s"),
        (60, "1 min"),
        (480, "8 min"),
        (-480, "8 min"),
        (3600, "1 h"),
        (3569, "59 min"),
        (12_000, "3 h 20 min"),
        (71 * 3600 + 60, "71 h 1 min"),
        (72 * 3600, "3 d"),
        (403 * 3600 + 180, "16 d 19 h"),
    ],
)
def test_a_length_of_time_is_spelled_as_a_bench_says_it(seconds, words):
    assert moments.duration(seconds) == words


def test_the_clock_is_the_shops_own(settings):
    settings.TIME_ZONE = "Europe/Berlin"
    assert moments.clock(NOW) == "13:00"
