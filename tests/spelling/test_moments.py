"""Moments, days and lengths of time."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from records.spelling import moments

NOON = dt.datetime(2026, 3, 2, 12, 0, tzinfo=dt.UTC)


def test_when_and_clock_are_in_the_shops_zone(settings):
    settings.TIME_ZONE = "America/New_York"
    at = dt.datetime(2026, 3, 4, 19, 5, tzinfo=dt.UTC)
    assert moments.when(at) == "4 Mar 2026, 14:05"
    assert moments.clock(at) == "14:05"
    assert moments.local_day(at.replace(hour=2)) == "3 Mar 2026"


def test_a_zone_is_named_where_a_paper_leaves_the_shop():
    berlin = ZoneInfo("Europe/Berlin")
    assert moments.when_with_zone(NOON, berlin) == "2 Mar 2026, 13:00 CET"


def test_no_moment_is_a_dash():
    assert moments.when(None) == moments.day(None) == "\N{EN DASH}"


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
    assert moments.duration(seconds).replace("\xa0", " ") == words
