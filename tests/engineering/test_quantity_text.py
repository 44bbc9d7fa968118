"""A number typed with its unit keeps both as they were meant."""

import subprocess
import sys
from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from records.engineering.quantity_text import parse_quantity
from records.engineering.unit_table import UNITS


@pytest.mark.parametrize(
    ("typed", "number", "unit"),
    [
        ("24 ft.lb", "24", "lbf.ft"),
        ("24 in.lb", "24", "lbf.in"),
        ("24 ft-lb", "24", "lbf.ft"),
        ("24 lb ft", "24", "lbf.ft"),
        ("24 N\N{MIDDLE DOT}m", "24", "N.m"),
        ("24 Nm", "24", "N.m"),
        ("24 newton meter", "24", "N.m"),
        ("24 N.meter", "24", "N.m"),
        ("1/16 in", "0.0625", "in"),
        ('2 3/8"', "2.375", "in"),
        ("1 1/2 inches", "1.5", "in"),
        ("10,3%", "10.3", "%"),
        ("9.50percent", "9.50", "%"),
        ("80 psi", "80", "psi"),
        ("80 PSI", "80", "psi"),
        ("1.2 megapascal", "1.2", "MPa"),
        ("14 hours", "14", "h"),
        ("5 mil", "5", "thou"),
        ("12 \N{MICRO SIGN}m", "12", "um"),
        ("12 \N{GREEK SMALL LETTER MU}m", "12", "um"),
        ("70 \N{DEGREE SIGN}F", "70", "degF"),
        ("21 \N{DEGREE SIGN} C", "21", "degC"),
        ("\N{MINUS SIGN}3 celsius", "-3", "degC"),
        ("12.5\N{DEGREE SIGN}", "12.5", "deg"),
        ("60 lb/1000 ft2", "60", "lb/1000ft2"),
        ("300 g/m\N{SUPERSCRIPT TWO}", "300", "g/m2"),
        ("300 g / m^2", "300", "g/m2"),
        ("0.7 g/cm\N{SUPERSCRIPT THREE}", "0.7", "g/cm3"),
        ("680 kilograms/meter**3", "680", "kg/m3"),
        ("680 kilograms/meter3", "680", "kg/m3"),
        ("0.5 in.oz", "0.5", "oz.in"),
        ("360 g mm", "360", "g.mm"),
        ("8 pcs", "8", "pcs"),
        ("0.2 ips", "0.2", "in/s"),
        ("2400 r/min", "2400", "rpm"),
        ("3 board_feet", "3", "bd.ft"),
        ("2 in in", "2", "in2"),
        (".5 L", "0.5", "L"),
        ("5. mm", "5", "mm"),
    ],
)
def test_is_read(typed, number, unit):
    value, symbol = parse_quantity(typed)
    assert (str(value), symbol) == (number, unit)


@pytest.mark.parametrize("symbol", sorted(UNITS))
def test_every_symbol_of_ours_is_read(symbol):
    assert parse_quantity(f"7 {symbol}") == (Decimal(7), symbol)


def test_minutes_are_not_metre_inches():
    assert parse_quantity("3 min")[1] == "min"
    with pytest.raises(ValueError, match="unit 'm in' is not known here"):
        parse_quantity("3 m in")


@pytest.mark.parametrize(
    "unit",
    ["furlong", "parsec", "J", "Mpa", "m/", "m*", "m**99999", "2**9**9", "m^22"],
)
def test_unknown_units_are_refused(unit):
    with pytest.raises(ValueError, match="is not known here; use one of m, mm"):
        parse_quantity(f"5 ({unit}" if unit[0].isdigit() else f"5 {unit}")


@pytest.mark.parametrize("unit", ["m" * 40, "m" * 41])
def test_long_unit_texts_are_cut_in_the_sentence(unit):
    with pytest.raises(ValueError, match=f"^unit '{'m' * 40}' is not known here"):
        parse_quantity(f"5 {unit}")


@pytest.mark.parametrize("typed", ["", "  ", "5", "mm", "mm 5", "-", "ten mm"])
def test_number_and_unit_are_both_needed(typed):
    with pytest.raises(ValueError, match=r"is not a number with its unit, such as"):
        parse_quantity(typed)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("1/3 in", "has no exact decimal"),
        ("12,125 mm", "could be read as"),
        ("1.2.3 mm", "is not a number"),
    ],
)
def test_what_the_number_refuses_the_quantity_refuses(typed, why):
    with pytest.raises(ValueError, match=why):
        parse_quantity(typed)


# Words that Pint's own reader answers with something other than a ValueError.
@given(st.from_regex(r"\A[a-zA-Z_ ./*^23%\"-]{1,12}\Z"))
@example("m and")
@example("lambda")
@example("_")
@example("dimensionless")
@example("g cm^-3")
def test_any_unit_text_is_read_or_refused_with_a_sentence(unit):
    try:
        _, symbol = parse_quantity(f"3 {unit}")
    except ValueError as refusal:
        symbol, sentence = None, str(refusal)
    assert symbol in UNITS if symbol else "is not" in sentence


def test_pint_is_not_loaded_until_a_spelling_needs_it():
    # Measured: Pint and its registry take 0.3 to 0.7 s, too much for a web page.
    code = (
        "import sys; from records.engineering.units import parse_quantity;"
        "parse_quantity('24 ft.lb'); print('pint' in sys.modules)"
    )
    command = [sys.executable, "-c", code]
    shown = subprocess.run(command, capture_output=True, text=True, check=True)  # noqa: S603
    assert shown.stdout.strip() == "False"


def test_a_unit_has_at_most_forty_characters():
    assert parse_quantity("5 inch" + "*m/m" * 9)[1] == "in"
    with pytest.raises(ValueError, match=r"^unit 'meter(\*m/m){8}\*m/' is not known"):
        parse_quantity("5 meter" + "*m/m" * 9)


def test_what_is_no_quantity_is_cut_in_the_sentence():
    with pytest.raises(ValueError, match=r"^'x{40}' is not a number with its unit"):
        parse_quantity("x" * 41)
