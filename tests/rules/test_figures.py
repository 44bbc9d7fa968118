"""Can this be what was read: number, unit, slips of the pen."""

from decimal import Decimal

import pytest

from records.models import Characteristic
from records.rules.figures import figure_is_possible, unit_is_right


def characteristic(**kwargs):
    facts = {"name": "Moisture", "kind": "measured", "unit": "%"}
    return Characteristic(**{**facts, **kwargs})


def sentences(characteristic, entered, unit, measures=""):
    findings = figure_is_possible(characteristic, entered, unit, measures)
    return [f.sentence for f in findings]


@pytest.mark.parametrize("entered", ["9.4", "9,4", " 9.4 ", "9 2/5"])
def test_a_figure_is_read_as_people_type_it(entered):
    assert sentences(characteristic(), entered, "%") == []


@pytest.mark.parametrize("entered", ["", "nine", "9.4 %", "1/3", "NaN", "9" * 70])
def test_what_is_no_figure_is_said(entered):
    assert len(sentences(characteristic(), entered, "%")) == 1


def test_figure_and_unit_are_both_reported():
    assert len(sentences(characteristic(), "nine", "psi")) == 2


@pytest.mark.parametrize(
    ("entered", "good"), [("40", True), ("40.01", False), ("2", True), ("1.9", False)]
)
def test_both_edges_of_what_is_taken(entered, good):
    bounds = {"plausible_low": Decimal(2), "plausible_high": Decimal(40)}
    assert (sentences(characteristic(**bounds), entered, "%") == []) is good


def test_a_slip_is_seen_in_any_unit():
    bore = characteristic(name="Bore", unit="mm", plausible_high=Decimal(300))
    assert sentences(bore, "11.8", "in") == []
    [sentence] = sentences(bore, "11.82", "in")
    assert sentence == (
        "11.82 in is more than 300 mm, the most that is taken for Bore. "
        "Check the decimal point and the unit."
    )


@pytest.mark.parametrize(
    ("unit", "quantity"), [("g", "mass"), ("mm2", "area"), ("pcs", "count")]
)
def test_what_is_never_negative(unit, quantity):
    [sentence] = sentences(characteristic(unit=unit), "-1", unit)
    assert sentence == f"-1 {unit}: a {quantity} can't be negative."
    assert sentences(characteristic(unit=unit), "0", unit) == []


def test_a_temperature_has_a_floor():
    room = characteristic(unit="degC", plausible_low=Decimal(-20))
    [sentence] = sentences(room, "-300", "degC")
    assert "below absolute zero" in sentence


def test_a_press_with_screws_is_read_as_torque():
    gauge = characteristic(unit="MPa", plausible_high=Decimal(1))
    assert sentences(gauge, "90", "N.m", "torque") == []
    [sentence] = sentences(gauge, "90", "MPa", "torque")
    assert "MPa is a unit of pressure" in sentence


def test_a_unit_is_named_and_known():
    assert [f.field for f in unit_is_right("Bore", "", "length")] == ["unit"]
    [findings] = unit_is_right("Bore", "ell", "length")
    assert findings.sentence.startswith("Unit 'ell' is not known here")
    assert unit_is_right("Bore", "in", "length") == []


@pytest.mark.parametrize("answer", ["yes", "No", " y ", "N"])
def test_a_question_is_answered_yes_or_no(answer):
    assert sentences(characteristic(kind="yes_no"), answer, "") == []


def test_other_answers_are_refused():
    assert sentences(characteristic(kind="yes_no"), "perhaps", "") == [
        "Answer yes or no."
    ]
    note = characteristic(kind="note", name="Marked as")
    assert sentences(note, " ", "") == ["Say in words: Marked as."]
    assert sentences(note, "x" * 200, "") == []
    assert len(sentences(note, "x" * 201, "")) == 1
