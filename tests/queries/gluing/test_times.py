"""The maker's times at a temperature, against a published bulletin."""

import pytest

from records.queries.gluing.times import GlueTimes, reach, table_of, tables_of
from tests import bulletin, factories

pytestmark = pytest.mark.django_db
NAMES = {
    "working_life": "working_life_s",
    "open_most": "open_most_s",
    "closed_most": "closed_most_s",
}


def test_every_row_of_the_published_bulletin_is_read_back():
    # Source: shared/glue_manufacturer_bulletins.csv, resorcinol G-1131.
    tables = table_of(bulletin.resorcinol_sheet().pk)
    rows = bulletin.points()
    assert len(rows) == 14
    for quantity, _, celsius, minutes in rows:
        result = getattr(tables.at(float(celsius)), NAMES[quantity])
        assert result == pytest.approx(float(minutes) * 60)


def test_between_two_rows_the_published_times_are_interpolated():
    # 77 degF is 25 degC: 2.789 h working life, computed from the same bulletin.
    times = table_of(bulletin.resorcinol_sheet().pk).at(25)
    assert times.working_life_s == pytest.approx(2.789 * 3600, rel=2e-3)


def test_open_time_used_shortens_closed_time_in_proportion():
    # Same bulletin at 70 degF: a third of 10 min used leaves 40 of 60 min closed.
    times = table_of(bulletin.resorcinol_sheet().pk).at(21.1)
    assert times.closed_most_after(200) == pytest.approx(40 * 60)
    assert times.closed_most_after(0) == pytest.approx(60 * 60)
    assert times.closed_most_after(900) == 0


def test_without_open_limit_the_closed_one_stands():
    assert GlueTimes(closed_most_s=3600).closed_most_after(900) == 3600
    assert GlueTimes().closed_most_after(900) is None


@pytest.mark.parametrize("celsius", [14.9, 38.1])
def test_nothing_is_read_past_the_ends_of_a_table(celsius):
    times = table_of(bulletin.resorcinol_sheet().pk).at(celsius)
    assert times.working_life_s is None
    assert times.unknown[0].startswith("Working life not known: temperature")


def test_beside_a_time_of_nothing_nothing_can_be_read():
    # At 100 degF the bulletin allows no open time at all.
    times = table_of(bulletin.resorcinol_sheet().pk).at(35)
    assert times.open_most_s is None
    assert times.working_life_s is not None
    assert "Longest open assembly time not known" in times.unknown[0]


def test_a_quantity_that_a_sheet_lacks_is_none_and_no_complaint():
    sheet = factories.GlueSheetFactory(points={"working_life": [(15, 60)]})
    times = table_of(sheet.pk).at(15)
    assert times.open_most_s is None
    assert times.unknown == ()


def test_tables_of_many_sheets_take_one_query(django_assert_num_queries):
    sheets = factories.GlueSheetFactory.create_batch(3)
    with django_assert_num_queries(1):
        tables = tables_of([sheet.pk for sheet in sheets])
    assert all(tables[sheet.pk].press_time for sheet in sheets)
    assert reach(tables[sheets[0].pk].press_time) == "15 to 30 °C"
