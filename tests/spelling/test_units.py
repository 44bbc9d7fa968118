"""Units: printed alike, with a partner that measures the same thing."""

import pytest

from records.engineering.unit_table import UNITS
from records.spelling.units import decimals, is_inch_pound, partner, unit_name

PAIRED = sorted(unit for unit in UNITS if partner(unit))


@pytest.mark.parametrize("unit", PAIRED)
def test_a_pair_measures_the_same_thing_in_the_other_system(unit):
    other = partner(unit)
    assert UNITS[unit].dimension == UNITS[other].dimension
    assert partner(other)
    assert is_inch_pound(unit) != is_inch_pound(other) or {unit, other} & {"bar"}


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_a_computed_figure_has_few_decimals(unit):
    assert 0 <= decimals(unit) <= 3


def test_symbols_are_printed_as_a_book_prints_them():
    assert [unit_name(u) for u in ("lbf.ft", "g.mm", "degC", "um", "1", "mm")] == [
        *("lbf·ft", "g·mm", "°C", "µm", "", "mm")
    ]
