"""Station readings as a drawing: every point is where its figures put it."""

import re
from decimal import Decimal

import pytest

from records.documents.station_chart import station_chart
from records.queries.deviations.register import readings_beside
from tests import factories

pytestmark = pytest.mark.django_db


def readings(values, **limits):
    propeller = factories.PropellerFactory()
    characteristic = factories.CharacteristicFactory(
        name="Blade <angle>", per="station"
    )
    stations = list(propeller.revision.stations.order_by("radius_mm"))
    for blade, angles in values.items():
        for station, angle in zip(stations, angles, strict=False):
            reading = factories.ReadingFactory(
                propeller=propeller,
                characteristic=characteristic,
                station=station,
                blade=blade,
                judged=Decimal(angle),
                judged_unit="deg",
                **limits,
            )
    return readings_beside(reading)


def test_one_line_a_blade_and_one_mark_a_reading():
    drawn = station_chart(readings({1: ["36.4", "24.0"], 2: ["36.6", "23.8"]}))
    assert drawn.count("<polyline") == 2
    assert drawn.count("<circle") == 3  # blade 1 and its name; blade 2 has squares
    assert "blade 1" in drawn
    assert "blade 2" in drawn


def test_greater_figure_lies_higher_and_outer_station_to_the_right():
    drawn = station_chart(readings({1: ["36.4", "24.0"]}))
    (x1, y1), (x2, y2) = [
        (float(x), float(y))
        for x, y in re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)"', drawn)[:2]
    ]
    assert x1 < x2
    assert y1 < y2


def test_limits_are_drawn_at_each_station():
    low, high = Decimal("23"), Decimal("37")
    drawn = station_chart(readings({1: ["36.4", "24.0"]}, low=low, high=high))
    assert drawn.count('class="chart-band"') == 2
    assert drawn.count('class="chart-limit"') == 4


def test_names_are_escaped():
    assert "Blade &lt;angle&gt;" in station_chart(readings({1: ["36", "24"]}))


def test_distance_from_the_middle_of_the_limits_is_drawn():
    # 36.4 lies 6.4 above the middle of 23 and 37, and 24.0 lies 6.0 below it.
    limits = {"low": Decimal(23), "high": Decimal(37)}
    drawn = station_chart(readings({1: ["36.4", "24.0"]}, **limits))
    assert ">6.4<" in drawn
    assert ">-6<" in drawn
    assert "° from the middle" in drawn


def test_single_reading_draws_nothing():
    assert station_chart(readings({1: ["36.4"]})) == ""


def test_same_figures_draw_without_a_scale_to_divide_by():
    assert "<svg" in station_chart(readings({1: ["24", "24"]}))
