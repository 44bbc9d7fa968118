"""The table of units against the published and the library factors."""

import csv
from fractions import Fraction
from pathlib import Path

import pint
import pytest
import scipy.constants

from records.engineering.unit_table import UNITS, dimension, find_unit, units_of

SHARED = Path(__file__).resolve().parents[2] / "shared"
OURS = {
    "thou (0.001 in)": "thou",
    "board foot": "bd.ft",
    "lb/1000 ft2": "lb/1000ft2",
}


def published():
    with (SHARED / "unit_factors.csv").open() as lines:
        return list(csv.DictReader(row for row in lines if not row.startswith("#")))


@pytest.mark.parametrize("row", published(), ids=lambda row: row["from"])
def test_factor_agrees_with_the_reference_table(row):
    # shared/unit_factors.csv, products of the exact definitions; its header names
    # NIST SP 811 App. B. Tolerance: the print's last digit of a float.
    source, target = (OURS.get(row[end], row[end]) for end in ("from", "to"))
    factor = UNITS[source].factor / UNITS[target].factor
    assert float(factor) == pytest.approx(float(row["factor"]), rel=1e-14)


# scipy.constants 1.17 (CODATA 2022 and the definitions).
SCIPY = {
    "in": scipy.constants.inch,
    "ft": scipy.constants.foot,
    "thou": scipy.constants.mil,
    "oz": scipy.constants.oz,
    "lb": scipy.constants.lb,
    "lbf": scipy.constants.lbf,
    "psi": scipy.constants.psi,
    "bar": scipy.constants.bar,
    "deg": scipy.constants.degree,
    "min": scipy.constants.minute,
    "h": scipy.constants.hour,
    "d": scipy.constants.day,
    "hp": scipy.constants.hp,
    "L": scipy.constants.liter,
    "degF": scipy.constants.degree_Fahrenheit,
    "rpm": 1 / scipy.constants.minute,
}


@pytest.mark.parametrize(("symbol", "factor"), SCIPY.items())
def test_factor_agrees_with_scipy(symbol, factor):
    assert float(UNITS[symbol].factor) == pytest.approx(factor, rel=1e-15)


# NIST SP 811 (2008), B.8 and B.9, seven digits as printed (seen through other
# federal guides; the page itself was not opened). Tolerance: half the last digit.
@pytest.mark.parametrize(
    ("symbol", "printed"),
    [
        ("psi", 6.894757e3),
        ("lbf", 4.448222),
        ("lbf.ft", 1.355818),
        ("lbf.in", 1.129848e-1),
        ("lb", 4.535924e-1),
        ("oz", 2.834952e-2),
        ("lb/ft3", 1.601846e1),
        ("bd.ft", 2.359737e-3),
        ("hp", 7.456999e2),
    ],
)
def test_factor_rounds_to_the_printed_one(symbol, printed):
    assert float(UNITS[symbol].factor) == pytest.approx(printed, rel=5e-7)


@pytest.fixture(scope="module")
def registry():
    return pint.UnitRegistry(non_int_type=Fraction)


# Pint has no base that matches ours for percent and rpm: those are checked by scipy
# and by hand.
@pytest.mark.parametrize(
    "symbol",
    [u.symbol for u in UNITS.values() if u.spelling and u.symbol not in {"%", "rpm"}],
)
def test_factor_agrees_with_pint(symbol, registry):
    unit, base = UNITS[symbol], UNITS[units_of(dimension(symbol))[0]]
    zero, one = (
        registry.Quantity(Fraction(n), unit.spelling).to(base.spelling).magnitude
        for n in (0, 1)
    )
    assert float(one - zero) == pytest.approx(float(unit.factor), rel=1e-14)
    assert float(zero) == pytest.approx(float(unit.offset), rel=1e-14)


def test_the_first_unit_of_each_dimension_is_its_si_unit():
    for name in {unit.dimension for unit in UNITS.values()}:
        first = UNITS[units_of(name)[0]]
        assert (first.factor, first.offset) == (1, 0)


@pytest.mark.parametrize(
    ("symbol", "expected"),
    [("psi", "pressure"), ("lbf.ft", "torque"), ("oz.in", "unbalance"), ("%", "ratio")],
)
def test_dimension_is_named(symbol, expected):
    assert dimension(symbol) == expected
    assert symbol in units_of(expected)


def test_percent_is_a_hundredth():
    assert UNITS["%"].factor == Fraction(1, 100)


def test_an_unknown_unit_is_refused_with_the_list():
    with pytest.raises(
        ValueError, match=r"^unit 'furlong' is not known here; use one of m, mm, cm"
    ):
        find_unit("furlong")
    with pytest.raises(ValueError, match="'PSI' is not known"):
        dimension("PSI")


def test_an_unknown_dimension_is_refused_with_the_list():
    with pytest.raises(
        ValueError, match=r"^dimension 'taste' is not one of angle, area, count"
    ):
        units_of("taste")
