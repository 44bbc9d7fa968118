"""A table is read between its points and never past its ends."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.interpolation import interpolate

TABLE = [(6.0, 5.5), (10.0, 9.0), (14.0, 14.5)]


def test_every_point_is_given_back():
    assert [interpolate(TABLE, at, "reading", "%") for at, _ in TABLE] == [
        value for _, value in TABLE
    ]


@given(st.floats(min_value=6, max_value=14))
def test_agrees_with_numpy(at):
    expected = np.interp(at, *zip(*TABLE, strict=True))
    assert interpolate(TABLE, at, "reading", "%") == pytest.approx(expected, rel=1e-12)


@given(st.floats(min_value=6, max_value=14), st.floats(min_value=6, max_value=14))
def test_a_rising_table_reads_rising(a, b):
    low, high = sorted((a, b))
    assert interpolate(TABLE, low, "r", "%") <= interpolate(TABLE, high, "r", "%")


@pytest.mark.parametrize("at", [math.nextafter(6, 0), math.nextafter(14, 15), 0, 99])
def test_one_step_outside_is_refused(at):
    with pytest.raises(ValueError, match=r"^reading [\d.]+ % is outside 6 to 14 %$"):
        interpolate(TABLE, at, "reading", "%")


def test_a_single_point_answers_only_for_itself():
    assert interpolate([(10, 9)], 10, "reading", "%") == 9
    with pytest.raises(ValueError, match="is outside 10 to 10 %"):
        interpolate([(10, 9)], 10.1, "reading", "%")


@pytest.mark.parametrize(
    ("points", "why"),
    [
        ([], "^points in the table of reading: 0 given, at least 1 needed$"),
        ([(1, 2), (1, 3)], "^reading in the table must rise: 1 % follows 1 %$"),
        ([(1, math.nan)], "^value in the table of reading nan is not a finite number"),
        ([(math.nan, 1)], "^reading in the table nan is not a finite number"),
    ],
)
def test_a_bad_table_is_refused(points, why):
    with pytest.raises(ValueError, match=why):
        interpolate(points, 1, "reading", "%")


def test_nan_is_refused():
    with pytest.raises(ValueError, match=r"^reading nan is not a finite number"):
        interpolate(TABLE, math.nan, "reading", "%")
