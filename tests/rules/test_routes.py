"""Can a build be run by this plan."""

from decimal import Decimal

import pytest

from records.models import Characteristic, Limit
from records.queries.routes.plans import default_plan
from records.rules.routes import (
    MEASURES,
    Purpose,
    limit_is_sound,
    plan_is_sound,
    same_as_in_force,
    sides_are_sound,
)


def plan(characteristic=None, **stage):
    reading = {"code": "a", "name": "A", "on": "propeller", "unit": "mm"}
    row = {"code": "s", "name": "S", "scope": "propeller"}
    return [
        {**row, **stage, "characteristics": [{**reading, **(characteristic or {})}]}
    ]


def sentences(stages, reason="New"):
    return [f.sentence for f in plan_is_sound(stages, reason)]


def test_the_default_plan_and_a_plain_one_are_sound():
    assert sentences(default_plan()) == []
    assert sentences(plan()) == []


def test_a_route_has_a_stage_and_a_reason():
    assert sentences([], " ") == [
        "Say what changed, and why.",
        "A route has at least one stage.",
    ]


@pytest.mark.parametrize(
    ("stage", "part"),
    [
        ({"code": ""}, "needs a code and a name"),
        ({"name": ""}, "needs a code and a name"),
        ({"scope": "house"}, "say what is signed"),
    ],
)
def test_a_stage_is_named_and_signed_on_something(stage, part):
    assert any(part in s for s in sentences(plan(**stage)))


@pytest.mark.parametrize(
    ("asked", "part"),
    [
        ({"purpose": "mass"}, "what serves as finished mass is a mass"),
        ({"code": ""}, "needs a code and a name"),
        ({"on": "lot"}, "it is read on a propeller"),
        ({"unit": "ell"}, "in which unit"),
        ({"unit": ""}, "in which unit"),
        ({"nominal": "chord", "per": "once"}, "by station"),
        ({"nominal": "angle", "per": "station"}, "a unit of angle"),
        ({"computed": "range_of_points", "compares": "b"}, "which readings"),
        ({"limits": [{"source": "x"}]}, "the least, the most, or both"),
    ],
)
def test_a_reading_is_sound(asked, part):
    [sentence] = sentences(plan(asked))
    assert part in sentence


def test_a_difference_compares_readings_of_its_own_quantity():
    rows = plan()
    other = {
        "code": "b",
        "name": "B",
        "on": "propeller",
        "unit": "deg",
        "computed": "range_of_points",
        "compares": "a",
    }
    rows[0]["characteristics"].append(other)
    assert any("compares readings of length" in s for s in sentences(rows))
    other["unit"] = "in"
    assert sentences(rows) == []


def test_a_difference_of_a_difference_is_none():
    rows = plan({"computed": "range_of_points", "compares": "a"})
    assert any("which readings" in s for s in sentences(rows))


@pytest.mark.parametrize(
    ("low", "high", "unit", "good"),
    [
        (1, 2, "mm", True),
        (2, 2, "in", True),
        (None, 2, "mm", True),
        (1, None, "mm", True),
        (None, None, "mm", False),
        (2, 1, "mm", False),
        (1, 2, "psi", False),
        (1, 2, "ell", False),
    ],
)
def test_the_sides_of_a_limit(low, high, unit, good):
    sides = [None if s is None else Decimal(s) for s in (low, high)]
    assert (sides_are_sound(*sides, unit, "mm") == []) is good


def limit(high="1.5", unit="mm", **asked):
    characteristic = Characteristic(**{"unit": "mm", **asked})
    return Limit(
        characteristic=characteristic,
        high=Decimal(high),
        unit=unit,
        source="Text",
        reason="Start",
    )


def test_only_a_figure_of_the_route_has_a_limit():
    assert limit_is_sound(limit()) == []
    for asked in (
        {"nominal": "chord"},
        {"computed": "glue_line_pressure"},
        {"kind": "yes_no"},
    ):
        assert limit_is_sound(limit(**asked))


def test_a_limit_that_changes_nothing_is_none():
    before = limit()
    assert same_as_in_force(before, limit("1.50"))
    assert same_as_in_force(before, limit(unit="in")) == []
    assert same_as_in_force(None, limit()) == []


def test_two_readings_of_a_stage_serve_no_purpose_together():
    stages = plan({"purpose": "track"})
    stages[0]["characteristics"].append(
        {"code": "b", "name": "B", "on": "propeller", "unit": "mm", "purpose": "track"}
    )
    assert any("two of its readings serve as track" in s for s in sentences(stages))


def test_every_purpose_that_is_a_quantity_says_which():
    words = {"", "marking", "balance_weight"}
    assert {p.value for p in MEASURES} == set(Purpose.values) - words
