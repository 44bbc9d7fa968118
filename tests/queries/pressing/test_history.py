"""How a load was held, from samples; closed forms at constant and stepped heat."""

import datetime as dt

import pytest

from records.models import PressSample
from records.queries.pressing.history import history_from, press_history
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db
TABLE = [(15.0, 24 * 3600.0), (20.0, 16 * 3600.0), (30.0, 8 * 3600.0)]


@pytest.fixture
def load():
    return factories.PressLoadFactory(
        on_at=NOON, pressure_low_pa=1_000_000, pressure_high_pa=1_400_000
    )


@pytest.fixture
def sheet():
    return factories.GlueSheetFactory()


def at(hour):
    return NOON + dt.timedelta(hours=hour)


def samples(load, *rows):
    """Make samples of hour, pressure [MPa] and temperature [°C]."""
    return [
        PressSample(load=load, at=at(h), glue_line_pa=p * 1e6, temperature_c=t)
        for h, p, t in rows
    ]


def history(load, sheet, *rows, table=TABLE):
    return history_from(load, samples(load, *rows), [(sheet, table)])


def test_held_all_the_time(load, sheet):
    result = history(load, sheet, (0, 1.1, 20), (8, 1.0, 20), (16, 1.2, 20))
    assert result.dips == ()
    assert (result.lowest_pa, result.highest_pa) == (1.0e6, 1.2e6)
    assert result.held_s == 16 * 3600
    assert result.longest_below_s == 0


def test_cure_at_a_constant_temperature_takes_the_press_time(load, sheet):
    result = history(load, sheet, (0, 1.1, 20), (20, 1.1, 20))
    assert result.opening_at == at(16)
    assert result.fraction == pytest.approx(20 / 16)


def test_cure_adds_up_over_a_step_of_temperature(load, sheet):
    # 8 h at 20 degC is half of 16 h; the other half takes 4 of 8 h at 30 degC.
    rows = (0, 1.1, 20), (8, 1.1, 20), (8, 1.1, 30), (20, 1.1, 30)
    assert history(load, sheet, *rows).opening_at == at(12)


def test_before_it_is_reached_the_opening_is_forecast(load, sheet):
    result = history(load, sheet, (0, 1.1, 20), (4, 1.1, 20))
    assert result.opening_at is None
    assert result.forecast_at == at(16)
    assert result.fraction == pytest.approx(0.25)


def test_outside_the_table_nothing_counts_and_nothing_is_forecast(load, sheet):
    result = history(
        load, sheet, (0, 1.1, 20), (4, 1.1, 20), (4, 1.1, 10), (9, 1.1, 10)
    )
    assert result.fraction == pytest.approx(0.25)
    assert result.cures[0].cure.too_cold_s == 5 * 3600
    assert result.forecast_at is None


def test_a_dip_runs_from_good_to_good(load, sheet):
    rows = (0, 1.1, 20), (1, 0.4, 20), (2, 0.6, 20), (3, 1.1, 20)
    [dip] = history(load, sheet, *rows).dips
    assert (dip.start, dip.end, dip.lowest_pa) == (at(0), at(3), 0.4e6)
    assert dip.ended
    assert dip.matters
    assert dip.duration_s == 3 * 3600


def test_a_drop_after_the_cure_does_not_matter(load, sheet):
    rows = (0, 1.1, 20), (16, 1.1, 20), (16.5, 1.1, 20), (17, 0.0, 20)
    [dip] = history(load, sheet, *rows).dips
    assert not dip.matters
    assert not dip.ended


def test_pumping_up_is_no_dip(load, sheet):
    result = history(load, sheet, (0, 0.2, 20), (0.1, 0.9, 20), (0.2, 1.1, 20))
    assert result.reached_at == at(0.2)
    assert result.dips == ()
    assert result.lowest_pa == 1.1e6


def test_pressure_that_never_came_up(load, sheet):
    result = history(load, sheet, (0, 0.2, 20), (5, 0.9, 20))
    assert result.reached_at is None
    assert result.highest_pa == 0.9e6
    assert result.held_s == 0


@pytest.mark.parametrize(
    ("table", "heat", "why"),
    [([], 20, "gives no press time"), (TABLE, None, "No temperature")],
)
def test_cure_that_nobody_can_tell(load, sheet, table, heat, why):
    result = history(load, sheet, (0, 1.1, heat), (5, 1.1, heat), table=table)
    assert result.fraction is None
    assert why in result.cures[0].unknown


def test_a_table_with_a_press_time_of_nothing_says_so(load, sheet):
    result = history(load, sheet, (0, 1.1, 20), (5, 1.1, 20), table=[(20.0, 0.0)])
    assert "must be above 0" in result.cures[0].unknown


def test_the_slowest_glue_decides(load, sheet):
    slow = [(15.0, 48 * 3600.0), (30.0, 32 * 3600.0)]
    rows = samples(load, (0, 1.1, 15), (30, 1.1, 15))
    result = history_from(load, rows, [(sheet, TABLE), (sheet, slow)])
    assert result.fraction == pytest.approx(30 / 48)
    assert result.opening_at is None
    assert result.forecast_at == at(48)


def test_without_samples_nothing_is_known(load, sheet):
    result = history_from(load, [], [(sheet, TABLE)])
    assert result.lowest_pa is None
    assert result.temperatures_c == []
    assert result.fraction is None


def test_a_glue_that_asks_no_pressure_is_held_from_first_to_last(sheet):
    load = factories.PressLoadFactory(on_at=NOON, pressure_low_pa=0)
    assert history(load, sheet, (0, 0.0, 20), (2, 0.1, 20)).held_s == 2 * 3600


def test_a_load_is_read_in_four_queries(load, django_assert_num_queries):
    blank = factories.glued_blank(3)
    factories.LoadedBlankFactory(load=load, blank=blank)
    with django_assert_num_queries(4):
        result = press_history(load)
    assert [c.sheet for c in result.cures] == [blank.spreads.first().mix.sheet]
