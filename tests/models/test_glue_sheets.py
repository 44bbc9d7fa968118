"""What can never be false about a maker's table of a glue, as the shop copied it."""

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from records.models import GlueSheetPoint
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("low", "high"),
    [
        ("parts_low", "parts_high"),
        ("spread_low_gm2", "spread_high_gm2"),
        ("pressure_low_pa", "pressure_high_pa"),
    ],
)
def test_a_range_of_a_sheet_is_in_order(low, high):
    factories.GlueSheetFactory(**{low: 5, high: 5})
    with pytest.raises(IntegrityError, match="glue_sheet_ranges_in_order"):
        factories.GlueSheetFactory(**{low: 6, high: 5})


def test_a_sheet_has_no_negative_figure():
    sheet = factories.GlueSheetFactory()
    sheet.spread_low_gm2 = -1
    with pytest.raises(ValidationError, match="can't be less than 0"):
        sheet.full_clean()


def test_a_revision_of_a_sheet_is_written_once():
    sheet = factories.GlueSheetFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.GlueSheetFactory(adhesive=sheet.adhesive)


def test_a_table_gives_one_time_at_a_temperature_and_none_below_zero():
    point = factories.GlueSheetFactory().points.first()
    same = {"sheet": point.sheet, "quantity": point.quantity}
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.GlueSheetPointFactory(
            **same, temperature_c=point.temperature_c, minutes=1
        )
    with pytest.raises(IntegrityError, match="glue_time_not_negative"):
        factories.GlueSheetPointFactory(**same, temperature_c=99, minutes=-1)


def test_rows_are_called_by_what_a_maker_calls_them():
    sheet = factories.GlueSheetFactory(source="Bulletin 7")
    point = sheet.points.get(quantity="working_life", temperature_c=20)
    assert str(sheet) == "Bulletin 7, sheet 1"
    assert str(point) == "working life at 20.0 °C"
    assert GlueSheetPoint.Quantity.PRESS_TIME.label == "least time under pressure"
