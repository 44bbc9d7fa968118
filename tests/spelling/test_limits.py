"""Limits: by their sides, in both systems or in their own."""

from decimal import Decimal

import pytest

from records.spelling.limits import limit, short_limit

D = Decimal


@pytest.mark.parametrize(
    ("low", "high", "words", "short"),
    [
        (
            D("1.0000"),
            D("2.0000"),
            "1 mm (0.039 in) to 2 mm (0.079 in)",
            "1 mm to 2 mm",
        ),
        (None, D("25.4"), "at most 25.4 mm (1.000 in)", "at most 25.4 mm"),
        (D("25.4"), None, "at least 25.4 mm (1.000 in)", "at least 25.4 mm"),
        (
            D("-25.4"),
            D("25.4"),
            "within 25.4 mm (1.000 in) either way",
            "within 25.4 mm either way",
        ),
        (None, None, "", ""),
    ],
)
def test_a_limit_is_spelled_by_its_sides(low, high, words, short):
    assert limit(low, high, "mm").replace("\xa0", " ") == words
    assert short_limit(low, high, "mm").replace("\xa0", " ") == short


def test_the_shops_units_come_first():
    shown = limit(None, D("25.4"), "mm", first="inch")
    assert shown == "at most 1.000\xa0in (25.4\xa0mm)"
