"""A control chart is drawn whole, in words as well, and marks by shape."""

import xml.etree.ElementTree as ET

import pytest

from records.documents.control_chart import control_chart
from records.models import Reading
from records.queries.trends import Point, Series
from records.rules.trends import trend_of
from tests import factories

SVG = "{http://www.w3.org/2000/svg}"


def drawn(values, **limits):
    reading = Reading(happened_at=factories.NOON)
    points = [Point(reading, value, "propeller <1>") for value in values]
    series = Series(
        stage="Press",
        name="Slip & slide",
        unit="mm",
        points=points,
        low=limits.get("low"),
        high=limits.get("high"),
        from_drawing=False,
        left_out=0,
    )
    return ET.fromstring(control_chart(trend_of(series)))  # noqa: S314 - our own


def test_every_reading_has_its_mark():
    chart = drawn([1.0, 1.2, 0.9, 1.1])
    assert len(chart.findall(f"{SVG}circle")) == 4


def test_a_reading_that_completes_a_pattern_is_a_square():
    chart = drawn([*[0.8, 1.2] * 10, 4.0, -2.0])
    assert len(chart.findall(f"{SVG}circle")) == 20
    marks = [p.get("d") for p in chart.findall(f"{SVG}path")]
    assert sum("h10v10" in d for d in marks) == 2


@pytest.mark.parametrize(
    ("limits", "lines"), [({}, 3), ({"high": 2}, 4), ({"low": 0, "high": 2}, 5)]
)
def test_limits_are_drawn_where_there_are_any(limits, lines):
    chart = drawn([1.0, 1.2, 0.9], **limits)
    assert len(chart.findall(f"{SVG}text")) == lines


def test_it_is_told_in_words_and_escaped():
    chart = drawn([1.0, 1.2])
    assert chart.find(f"{SVG}title").text == "Slip & slide, 2 readings in order"
    assert "Centre 1.1" in chart.find(f"{SVG}desc").text


def test_readings_that_never_change_can_be_drawn():
    assert drawn([1.0, 1.0, 1.0]).findall(f"{SVG}circle")
