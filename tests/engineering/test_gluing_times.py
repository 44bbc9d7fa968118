"""Times of a glue sheet at the actual temperature."""

import csv
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.gluing_times import closed_limit_after_open, interpolate_time

SHARED = Path(__file__).resolve().parents[2] / "shared"
SECONDS = {"h": 3600, "min": 60}


def bulletin(glue, quantity):
    """Rows of a bulletin reprinted in the Falco manual, App. D, rev. 4 (seen)."""
    with (SHARED / "glue_manufacturer_bulletins.csv").open() as lines:
        rows = list(csv.DictReader(row for row in lines if not row.startswith("#")))
    return [
        (celsius(row["temp_f"]), float(row["value"]) * SECONDS[row["unit"]])
        for row in rows
        if (row["glue"], row["quantity"]) == (glue, quantity)
    ]


def celsius(fahrenheit):
    return (float(fahrenheit) - 32) / 1.8


WORKING_LIFE = bulletin("RF G-1131", "working_life")
OPEN = bulletin("RF G-1131", "max_open_assembly")
CLOSED = bulletin("RF G-1131", "max_closed_assembly")
INSIDE = st.floats(min_value=celsius(60), max_value=celsius(100))


def test_the_bulletin_is_read():
    assert len(WORKING_LIFE) == 6
    assert [time for _, time in OPEN] == [600, 300, 60, 0]


@pytest.mark.parametrize("table", [WORKING_LIFE, OPEN, CLOSED])
def test_every_row_is_given_back(table):
    assert [interpolate_time(table, at) for at, _ in table] == [t for _, t in table]


# check-values 5, computed from the bulletin: half-way the geometric mean; print + 0.5.
@pytest.mark.parametrize(
    ("fahrenheit", "hours", "tolerance"),
    [(65, math.sqrt(7.5 * 3.75), 1e-9), (65, 5.303, 5e-4), (77, 2.789, 5e-4)],
)
def test_between_rows_the_logarithm_is_straight(fahrenheit, hours, tolerance):
    result = interpolate_time(WORKING_LIFE, celsius(fahrenheit)) / 3600
    assert result == pytest.approx(hours, abs=tolerance)


def test_a_rule_of_ten_degrees_is_met_exactly_between_its_own_rows():
    # "Half the time for each 10 degC more" (seen, an adhesive maker's page): gel 10,
    # 5, 2.5 min at 25, 35, 45 degC. It is straight in log time.
    table = [(25, 600), (45, 150)]
    assert interpolate_time(table, 35) == pytest.approx(300, rel=1e-12)


@given(INSIDE, INSIDE)
def test_warmer_is_never_longer(a, b):
    cool, warm = sorted((a, b))
    assert interpolate_time(WORKING_LIFE, warm) <= interpolate_time(
        WORKING_LIFE, cool
    ) * (1 + 1e-12)


@given(INSIDE, st.floats(0.001, 1000))
def test_the_unit_of_time_does_not_matter(at, factor):
    scaled = [(row, time * factor) for row, time in WORKING_LIFE]
    assert interpolate_time(scaled, at) == pytest.approx(
        factor * interpolate_time(WORKING_LIFE, at)
    )


@pytest.mark.parametrize("outward", [-1e-9, 1e-9])
def test_one_step_outside_the_table_is_refused(outward):
    edge = WORKING_LIFE[0 if outward < 0 else -1][0]
    with pytest.raises(
        ValueError, match=r"^temperature [\d.]+ degC is outside 15\.5556 to 37\.7778 d"
    ):
        interpolate_time(WORKING_LIFE, edge + outward)


def test_a_time_of_zero_holds_only_at_its_own_temperature():
    assert interpolate_time(OPEN, celsius(100)) == 0
    assert interpolate_time(OPEN, celsius(90)) == 60
    for table in (OPEN, [(10, 0), (20, 60)]):
        middle = (table[-2][0] + table[-1][0]) / 2
        sentence = (
            r"^temperature [\d.]+ degC is beside a time of 0 s in the table; "
            r"no time can be read between [\d.]+ degC and [\d.]+ degC$"
        )
        with pytest.raises(ValueError, match=sentence):
            interpolate_time(table, middle)


@pytest.mark.parametrize(
    ("table", "why"),
    [
        ([], "^points in the table of temperature: 0 given, at least 1 needed$"),
        ([(20, 60), (20, 50)], "^temperature in the table must rise: 20 degC follows"),
        ([(20, -60)], "^time in the table -60 s must not be negative$"),
        ([(20, math.nan)], "^time in the table nan is not a finite number"),
        ([(math.nan, 60)], "^temperature in the table nan is not a finite number"),
    ],
)
def test_a_bad_table_is_refused(table, why):
    with pytest.raises(ValueError, match=why):
        interpolate_time(table, 20)


def test_a_single_row_answers_only_for_itself():
    assert interpolate_time([(20, 60)], 20) == 60
    with pytest.raises(ValueError, match="is outside 20 to 20 degC"):
        interpolate_time([(20, 60)], 20.1)


def test_nan_is_refused():
    with pytest.raises(ValueError, match=r"^temperature nan is not a finite number"):
        interpolate_time(WORKING_LIFE, math.nan)


def test_open_time_used_up_is_taken_off_the_closed_time():
    # The bulletin's own rule (seen): at 70 degF a third of 10 min leaves 40 of 60 min.
    assert closed_limit_after_open(200, 600, 3600) == pytest.approx(2400)
    assert closed_limit_after_open(0, 600, 3600) == 3600
    assert closed_limit_after_open(600, 600, 3600) == 0


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ((-1, 600, 3600), "^open assembly time -1 s is outside 0 to 600 s$"),
        ((601, 600, 3600), "^open assembly time 601 s is outside 0 to 600 s$"),
        ((0, 0, 3600), "^longest open assembly time 0 s must be above 0 s$"),
        ((0, 600, 0), "^longest closed assembly time 0 s must be above 0 s$"),
    ],
)
def test_impossible_assembly_times_are_refused(arguments, why):
    with pytest.raises(ValueError, match=why):
        closed_limit_after_open(*arguments)
