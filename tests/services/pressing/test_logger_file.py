"""Reading a logger's file: flexible about layout, strict about every line."""

import datetime as dt
from decimal import Decimal

import pytest

from records.services.pressing.logger_file import UnreadableLine, logged, read_log
from tests.factories import NOON

SEMICOLONS = "time;pressure [bar];temperature [°C]\n2026-03-02 12:00:00;180,5;20,5\n"
COMMAS = "Timestamp,Gauge (psi),Temp (°F)\n2026-03-02T12:00:00+00:00,2600,68\n"
TABS = "Elapsed [min]\tPressure\n0\t180\n"
DATED = "date;time;pressure\n02.03.2026;12:00;180\n"
MARCH = "02.03.2026 12:00"


@pytest.mark.parametrize("text", [SEMICOLONS, COMMAS, TABS, DATED])
def test_the_layouts_of_loggers_are_read(text):
    log = read_log(text, NOON)
    assert [line.at for line in log.lines] == [NOON]
    assert log.bad == []


def test_figures_stay_as_they_are_written():
    [line] = read_log(SEMICOLONS, NOON).lines
    assert line.pressure == "180,5"
    assert line.temperature == Decimal("20.5")


def test_units_of_the_heading_are_known():
    columns = read_log(COMMAS, NOON).columns
    assert columns["pressure"].unit == "psi"
    assert columns["temperature"].unit == "degF"
    assert read_log(DATED, NOON).columns["pressure"].unit == ""


def test_lines_above_the_heading_are_the_loggers_own():
    log = read_log("Logger 7\nSerial;1234\n\n" + SEMICOLONS, NOON)
    assert [line.number for line in log.lines] == [5]


def test_times_without_a_zone_are_the_shops(settings):
    settings.TIME_ZONE = "Europe/Berlin"
    [line] = read_log(SEMICOLONS, NOON).lines
    assert line.at == NOON - dt.timedelta(hours=1)


def test_elapsed_times_count_from_pressure_on():
    log = read_log("elapsed [h];pressure\n0;180\n1,5;181\n", NOON)
    assert log.lines[1].at == NOON + dt.timedelta(minutes=90)


def test_empty_lines_are_passed_over():
    log = read_log(SEMICOLONS + "\n;;\n", NOON)
    assert len(log.lines) == 1


def test_a_comma_is_the_decimal_sign_of_a_logger():
    assert logged("1,034") == Decimal("1.034")
    assert logged("1.034") == Decimal("1.034")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("2026-03-02 12:00:00;;20", "The pressure is missing."),
        ("2026-03-02 12:00:00;high;20", "is not a number"),
        ("2026-03-02 12:00:00;180;warm", "is not a number"),
        ("03/02/2026 12:00;180;20", "is no date and time"),
        ("2026-03-02;180;20", "is no date and time"),
        ("2026-02-30 12:00;180;20", "is no date and time"),
        (";180;20", "is no date and time"),
        ("2026-03-02 12:00:00;180;20;5", "more columns than the heading"),
    ],
)
def test_a_bad_line_is_named_and_the_good_ones_are_still_read(line, says):
    log = read_log(SEMICOLONS + line + "\n", NOON)
    [(number, reason)] = log.bad
    assert number == 3
    assert says in reason
    assert len(log.lines) == 1


def test_elapsed_time_needs_its_unit():
    [(_, reason)] = read_log("elapsed;pressure\n5;180\n", NOON).bad
    assert "elapsed [s], [min] or [h]" in reason


def test_an_elapsed_time_beyond_the_calendar_is_a_bad_line():
    [(_, reason)] = read_log("elapsed [h];pressure\n1e12;180\n", NOON).bad
    assert "no time in a press" in reason


def test_a_file_without_a_heading_says_what_to_write():
    with pytest.raises(UnreadableLine, match=r"time;pressure \[bar\];temperature"):
        read_log("2026-03-02 12:00;180;20\n", NOON)


def test_a_file_without_lines_is_refused():
    with pytest.raises(UnreadableLine, match="no line under the heading"):
        read_log("time;pressure\n", NOON)


def test_a_file_that_is_too_long_is_refused():
    with pytest.raises(UnreadableLine, match="20000 are the most"):
        read_log("time;pressure\n" + "x\n" * 20_001, NOON)


def test_a_line_that_is_too_long_for_a_logger_is_named():
    text = "elapsed [min];pressure [bar]\n0;12\n1;" + "9" * 200_000
    with pytest.raises(UnreadableLine, match="Line 3 has 200002 characters"):
        read_log(text, NOON)
