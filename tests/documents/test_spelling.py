"""Facts spelled in both unit systems; factors are exact (inch 25.4 mm, BIPM/NIST)."""

import pytest

from records.documents.spelling import (
    Speller,
    as_frozen,
    figure,
    in_full,
    in_groups,
    joined,
    length,
    limit,
    plain_day,
    short_figure,
    torque_range,
    verdict,
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
    assert figure(fact()) == "25.4\xa0mm (1.000\xa0in)"
    assert figure(fact(entered="25.40")) == "25.40\xa0mm (1.000\xa0in)"
    assert figure(fact(entered="2 3/8", unit="in")) == "60.33\xa0mm (2 3/8\xa0in)"
    assert figure(fact(entered="yes", unit="")) == "yes"
    assert figure(fact(entered="two", unit="mm")) == "two\xa0mm"
    assert figure(fact(entered="2000", unit="g")) == "2000\xa0g (4.41\xa0lb)"
    assert short_figure(fact(entered="3.0", unit="deg")) == "3.0°"


def test_a_limit_is_spelled_by_its_sides():
    assert limit(fact(most="25.4")) == "at most 25.4\xa0mm (1.000\xa0in)"
    assert limit(fact()) == "none set"


def test_what_is_outside_is_loud_and_leads_to_its_concession():
    assert verdict(fact(verdict="outside")) == "OUTSIDE"
    accepted = fact(verdict="outside", accepted_by_concession=True)
    assert verdict(accepted) == "OUTSIDE, accepted: see 29"


def test_a_reading_without_limit_is_its_figure():
    assert in_full(fact()) == "25.4\xa0mm (1.000\xa0in)"
    held = "25.4\xa0mm (1.000\xa0in); limit at most 30\xa0mm (1.181\xa0in); inside"
    assert in_full(fact(most="30")) == held


def test_times_are_those_of_the_shop_with_their_zone(spell):
    assert spell.when("2026-07-01T22:30:00Z") == "2 Jul 2026, 00:30 CEST"
    assert spell.day("2026-07-01T22:30:00Z") == "2 Jul 2026"
    assert spell.day(None) == spell.when(None) == length(None)
    assert plain_day("2026-03-04") == "4 Mar 2026"


def test_inches_come_first_where_they_did_when_the_facts_were_frozen():
    with as_frozen({"record": {"units_first": "inch"}}):
        assert length("25.4") == "1.000\xa0in (25.4\xa0mm)"
        assert torque_range("24", "24") == "17.7\xa0lbf·ft (24\xa0N·m)"
    shown = torque_range("24", "27")
    assert shown == "24\xa0N·m (17.7\xa0lbf·ft) to 27\xa0N·m (19.9\xa0lbf·ft)"


def test_small_parts():
    assert in_groups("0123456789", 4) == "0123 4567 89"
    assert joined(["a", "", None, "b"]) == "a, b"
