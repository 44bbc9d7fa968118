"""A strip shows where figures lie between their limits."""

import base64
import re

import pytest

from records.documents.charts import HEIGHT, WIDTH, limit_strip


def drawn(*args):
    return base64.b64decode(limit_strip(*args).split(",")[1]).decode()


def circles(svg):
    result = re.findall(r'<circle cx="([0-9.]+)" cy="6" r="[24]" fill="(#\w+)"', svg)
    return [(float(x), fill) for x, fill in result]


def band(svg):
    x, width = re.search(r'<rect x="([0-9.]+)" y="2" width="([0-9.]+)"', svg).groups()
    return float(x), float(x) + float(width)


def test_the_middle_of_the_limits_is_the_middle_of_the_strip():
    assert circles(drawn([10.0], 8.0, 12.0)) == [(WIDTH / 2, "#000")]


def test_a_figure_on_a_limit_lies_on_the_edge_of_the_band():
    svg = drawn([8.0, 12.0], 8.0, 12.0)
    (first, _), (second, _) = circles(svg)
    assert (first, second) == pytest.approx(band(svg), abs=0.02)


def test_figures_are_filled_and_open_in_turn():
    fills = [fill for _, fill in circles(drawn([9.0, 10.0, 11.0], 8.0, 12.0))]
    assert fills == ["#000", "#fff", "#000"]


def test_the_place_is_in_proportion():
    places = [x for x, _ in circles(drawn([9.0, 10.0, 11.0], 8.0, 12.0))]
    assert places[1] - places[0] == pytest.approx(places[2] - places[1])


def test_a_single_limit_makes_a_band_from_zero():
    svg = drawn([0.0, 1.5], None, 1.5)
    assert [x for x, _ in circles(svg)] == pytest.approx(band(svg), abs=0.02)
    assert band(drawn([1.0], 2.0, None)) == band(drawn([1.0], None, 2.0))


@pytest.mark.parametrize(("figure", "start"), [(-99.0, "M0 6"), (99.0, "M100 6")])
def test_a_figure_far_outside_is_an_arrow_at_its_end(figure, start):
    svg = drawn([figure], 8.0, 12.0)
    assert f'<path d="{start}' in svg
    assert "circle" not in svg
    assert HEIGHT == 12


@pytest.mark.parametrize(
    "args", [([], 1.0, 2.0), ([1.0], None, None), ([1.0], 2.0, 2.0)]
)
def test_without_figures_or_a_band_there_is_nothing(args):
    assert limit_strip(*args) == ""
