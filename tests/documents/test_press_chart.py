"""The drawing of a press load: every sample, limit and dip where it belongs."""

import datetime as dt
import re
import xml.etree.ElementTree as ET

import pytest

from records.documents.press_chart import HEIGHT, LEFT, RIGHT, TOP, WIDTH, press_chart
from records.models import GlueSheet, Material, Press, PressLoad, PressSample
from records.queries.pressing.history import history_from
from tests.factories import NOON
from tests.queries.pressing.test_history import TABLE

SVG = "{http://www.w3.org/2000/svg}"


def load(off=None, low=1_000_000, high=1_400_000):
    return PressLoad(
        number="P0001",
        press=Press(name="Long <press>"),
        on_at=NOON,
        off_at=None if off is None else NOON + dt.timedelta(hours=off),
        pressure_low_pa=low,
        pressure_high_pa=high,
    )


def drawn(*rows, **kwargs):
    """Draw a load from rows of hour, pressure [MPa] and temperature [°C]."""
    result = load(**kwargs)
    samples = [
        PressSample(
            load=result,
            at=NOON + dt.timedelta(hours=hour),
            glue_line_pa=mpa * 1e6,
            temperature_c=celsius,
        )
        for hour, mpa, celsius in rows
    ]
    sheet = GlueSheet(adhesive=Material(name="Glue A"))
    text = press_chart(history_from(result, samples, [(sheet, TABLE)]))
    return ET.fromstring(text)  # noqa: S314 - our own drawing


def of(svg, name):
    return [x for x in svg.iter() if x.get("class") == name]


def points(svg, name):
    [line] = of(svg, name)
    return [tuple(map(float, p.split(","))) for p in line.get("points").split()]


def words(svg):
    return [x.text for x in svg.iter(f"{SVG}text")]


def test_nothing_sampled_is_nothing_drawn():
    assert press_chart(history_from(load(), [], [])) == ""


def test_times_run_across_and_pressures_up():
    # The scale ends 15 % above the most that the glue bears: 1.61 MPa.
    svg = drawn((0, 0.805, 20), (5, 1.2, 20), (10, 1.2, 20))
    (x0, y0), (x1, _), (x2, _) = points(svg, "chart-pressure")
    assert (x0, x2) == (LEFT, WIDTH - RIGHT)
    assert x1 == pytest.approx((x0 + x2) / 2, abs=0.1)
    assert y0 == pytest.approx(TOP + HEIGHT / 2, abs=0.1)


def test_a_load_that_was_opened_is_drawn_until_then():
    svg = drawn((0, 1.2, 20), (5, 1.2, 20), off=10)
    assert points(svg, "chart-pressure")[-1][0] < WIDTH * 0.6


def test_both_limits_are_drawn_and_named():
    svg = drawn((0, 1.2, 20), (5, 1.2, 20))
    heights = [
        float(re.match(r"M\S+ (\S+)H", x.get("d"))[1]) for x in of(svg, "chart-limit")
    ]
    share = [1 - (y - TOP) / HEIGHT for y in heights]
    assert share == pytest.approx([1.0 / 1.61, 1.4 / 1.61], abs=1e-3)
    assert {"least", "most"} <= set(words(svg))


def test_a_dip_is_marked_from_good_to_good_with_its_lowest():
    svg = drawn((0, 1.2, 20), (2, 0.5, 20), (4, 1.2, 20), (10, 1.2, 20))
    [dip] = of(svg, "chart-dip")
    assert float(dip.get("x")) == LEFT
    whole = WIDTH - LEFT - RIGHT
    assert float(dip.get("width")) == pytest.approx(0.4 * whole, abs=0.1)
    assert "0.50 MPa" in words(svg)


def test_what_falls_after_the_cure_is_not_marked():
    svg = drawn((0, 1.2, 20), (17, 1.2, 20), (18, 0.0, 20))
    assert of(svg, "chart-dip") == []


def test_a_thousand_samples_lose_no_dip():
    rows = [(i / 100, 0.2 if i == 777 else 1.2, 20) for i in range(2000)]
    line = points(drawn(*rows), "chart-pressure")
    assert len(line) < 2000
    lowest = max(y for _, y in line)
    assert lowest == pytest.approx(TOP + HEIGHT * (1 - 0.2 / 1.61), abs=0.1)


def test_heat_has_its_own_panel_where_it_was_sampled():
    assert len(points(drawn((0, 1.2, 20), (5, 1.2, 24)), "chart-heat")) == 2
    svg = drawn((0, 1.2, None), (5, 1.2, None))
    assert of(svg, "chart-heat") == []
    assert "°C" not in words(svg)


def test_the_clock_is_the_shops_and_marks_round_hours(settings):
    settings.TIME_ZONE = "Europe/Berlin"
    svg = drawn((0, 1.2, 20), (16, 1.2, 20))
    assert [w for w in words(svg) if ":" in w] == ["16:00", "20:00", "00:00", "04:00"]
    assert [w for w in words(svg) if "Mar" in w] == ["2 Mar", "3 Mar"]


def test_one_sample_is_a_point():
    [mark] = of(drawn((1, 1.2, 20)), "chart-pressure")
    assert mark.tag == f"{SVG}circle"


def test_a_range_that_suits_no_glue_is_still_drawn():
    svg = drawn((0, 0.5, 20), (5, 0.5, 20), low=700_000, high=300_000)
    [band] = of(svg, "chart-band")
    assert float(band.get("height")) > 0


def test_it_says_in_words_what_it_shows_and_styles_nothing_inline():
    svg = drawn((0, 1.2, 20), (2, 0.5, 20), (4, 1.2, 20))
    described = svg.find(f"{SVG}desc").text
    assert "3 samples since 2 Mar 2026, 12:00" in described
    assert "times below it while it cured: 1" in described
    assert all(x.get("style") is None for x in svg.iter())
    assert svg.get("role") == "img"
