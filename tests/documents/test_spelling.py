"""Facts spelled in both unit systems; factors are exact (inch 25.4 mm, BIPM/NIST)."""

import pytest

from records.documents.spelling import (
    Speller,
    figure,
    in_groups,
    joined,
    limit,
    plain_day,
    short_figure,
    torque_range,
    verdict,
    whole,
)


def fact(**changes):
    return {
        "entered": "25.4",
        "unit": "mm",
        "least": None,
        "most": None,
        "limit_unit": "mm",
        "verdict": "inside",
        "accepted_by_concession": False,
    } | changes


@pytest.fixture
def spell():
    return Speller({"record": {"units_first": "inch", "time_zone": "Europe/Berlin"}})


def test_a_figure_keeps_its_digits_and_gets_the_other_system():
    assert figure(fact()) == "25.4 mm (1.000 in)"
    assert figure(fact(entered="25.40")) == "25.4 mm (1.000 in)"
    assert figure(fact(entered="2 3/8", unit="in")) == "2.375 in (60.33 mm)"
    assert figure(fact(entered="yes", unit="")) == "yes"
    assert figure(fact(entered="two", unit="mm")) == "two mm"
    assert figure(fact(entered="2000", unit="g")) == "2000 g (4.41 lb)"
    assert short_figure(fact(entered="3.0", unit="deg")) == "3.0°"


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        ("1", "2", "1 mm (0.039 in) to 2 mm (0.079 in)"),
        (None, "25.4", "at most 25.4 mm (1.000 in)"),
        ("25.4", None, "at least 25.4 mm (1.000 in)"),
        ("-25.4", "25.4", "within 25.4 mm (1.000 in) either way"),
        (None, None, "none set"),
    ],
)
def test_a_limit_is_spelled_by_its_sides(low, high, words):
    assert limit(fact(least=low, most=high)) == words


def test_what_is_outside_is_loud_and_leads_to_its_concession():
    assert verdict(fact(verdict="outside")) == "OUTSIDE"
    accepted = fact(verdict="outside", accepted_by_concession=True)
    assert verdict(accepted) == "OUTSIDE, accepted: see 29"


def test_a_reading_without_limit_is_its_figure():
    assert whole(fact()) == "25.4 mm (1.000 in)"
    held = "25.4 mm (1.000 in); limit at most 30 mm (1.181 in); inside"
    assert whole(fact(most="30")) == held


def test_times_are_those_of_the_shop_with_their_zone(spell):
    assert spell.when("2026-07-01T22:30:00Z") == "2 Jul 2026, 00:30 CEST"
    assert spell.day("2026-07-01T22:30:00Z") == "2 Jul 2026"
    assert spell.day(None) == spell.when(None) == spell.length(None)
    assert plain_day("2026-03-04") == "4 Mar 2026"


def test_inches_come_first_where_the_shop_says_so(spell):
    assert spell.length("25.4") == "1.000 in (25.4 mm)"
    assert spell.torque("24", "24") == "17.7 lbf·ft (24 N·m)"
    assert torque_range("24", "27") == "24 N·m (17.7 lbf·ft) to 27 N·m (19.9 lbf·ft)"


def test_small_parts():
    assert in_groups("0123456789", 4) == "0123 4567 89"
    assert joined(["a", "", None, "b"]) == "a, b"
