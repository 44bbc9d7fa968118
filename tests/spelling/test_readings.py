"""Readings: digits as entered, what was judged, against what, and where."""

from decimal import Decimal

import pytest

from records.spelling import readings as spell
from records.spelling.quantities import units_first
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def reading(shop):
    return factories.ReadingFactory(
        propeller=factories.PropellerFactory(),
        characteristic=factories.CharacteristicFactory(name="Track"),
        entered="16.00",
        unit="mm",
        judged=Decimal("16.00000000"),
        judged_unit="mm",
        high=Decimal("20.0000"),
        blade=1,
        point="tip",
        verdict="inside",
    )


def plain(text):
    return text.replace("\xa0", " ")


def test_digits_stay_as_they_were_entered(reading):
    assert plain(spell.figure_of(reading)) == "16.00 mm (0.630 in)"
    assert plain(spell.short_figure_of(reading)) == "16.00 mm"


def test_the_shops_units_come_first(reading):
    with units_first(lambda: "inch"):
        assert plain(spell.figure_of(reading)) == "0.630 in (16.00 mm)"
        assert plain(spell.limit_of(reading)) == "at most 0.787 in (20 mm)"


def test_a_typed_minus_is_a_true_minus():
    assert plain(spell.figure("-1.7", "mm")) == (
        "\N{MINUS SIGN}1.7 mm (\N{MINUS SIGN}0.067 in)"
    )


@pytest.mark.parametrize("words", ["yes", "2 knots, filled"])
def test_words_are_words(words):
    assert spell.figure(words, "") == words


def test_name_place_limit_and_verdict(reading):
    assert spell.name_of(reading) == "Track, blade 1, tip"
    verdict = spell.verdict_of(reading)
    assert (verdict.shape, verdict.word) == ("inside", "inside")
    assert plain(verdict.detail) == "limit at most 20 mm (0.787 in)"


def test_what_was_judged_is_said_where_it_is_not_what_was_read(reading):
    assert spell.judged_of(reading) == ""
    reading.characteristic.computed = "glue_line_pressure"
    reading.judged, reading.judged_unit = Decimal("1124779.23575625"), "Pa"
    assert plain(spell.judged_of(reading)) == "at the glue line 1.12 MPa (163 psi)"


def test_an_uncertainty_has_two_digits_that_count():
    assert plain(spell.uncertainty(0.012345, "mm")) == "0.012 mm"
    assert plain(spell.uncertainty(12345.0, "Pa")) == "0.01 MPa (2 psi)"
