"""Permissible residual unbalance by ISO grade and by the shop's figure."""

import csv
import math
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.balance_permissible import (
    balance_grade,
    centrifugal_force,
    permissible_by_grade,
    permissible_by_shop,
    permissible_eccentricity,
)
from records.engineering.units import convert

# ISO 21940-11 grades as seen at ascentialtech.com; e_per computed as 9549.297 G / n.
TABLE = Path(__file__).resolve().parents[2] / "shared" / "balance_grades.csv"
GRADES = st.floats(0.4, 4000)
MASSES = st.floats(0.5, 60)
SPEEDS = st.floats(300, 6000)


def grade_rows():
    lines = TABLE.read_text().splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize("row", grade_rows(), ids=lambda row: row["grade"])
@pytest.mark.parametrize("speed", [2400, 2700, 3000])
def test_permissible_eccentricity_of_the_grades(row, speed):
    result = permissible_eccentricity(float(row["e_omega_mm_s"]), speed)
    assert result == pytest.approx(float(row[f"e_per_{speed}"]), abs=0.00051)


@pytest.mark.parametrize(
    ("grade", "speed", "e_per_um"),
    [
        # Computed from the formula of ISO 21940-11.
        (6.3, 3000, 20.054),
        (6.3, 2700, 22.282),
        (6.3, 2400, 25.067),
        (6.3, 1500, 40.107),
        (2.5, 3000, 7.958),
        (16, 2700, 56.588),
    ],
)
def test_permissible_eccentricity_computed(grade, speed, e_per_um):
    result = permissible_eccentricity(grade, speed)
    assert result == pytest.approx(e_per_um, abs=0.0005)


@pytest.mark.parametrize(
    ("mass", "speed", "grade", "u_per"),
    [
        # Computed from the formula of ISO 21940-11.
        (5, 2700, 6.3, 111.408),
        (4, 2500, 6.3, 96.257),
        (6.5, 2400, 16, 413.803),
        (10, 3000, 6.3, 200.535),
    ],
)
def test_permissible_unbalance_computed(mass, speed, grade, u_per):
    result = permissible_by_grade(grade, mass, speed).amount_g_mm
    assert result == pytest.approx(u_per, abs=0.0005)
    # The balancing trade prints m G 9549 / n (seen at erbessd-instruments.com).
    assert result == pytest.approx(mass * grade * 9549 / speed, rel=5e-5)


@pytest.mark.parametrize(("mass", "speed", "grade"), [(5, 2700, 6.3), (9, 2400, 16)])
def test_formula_in_ounces_and_pounds(mass, speed, grade):
    # energy-tech.com, article 18389: U[oz.in] = 6.015 G W[lb] / N.
    result = permissible_by_grade(grade, mass, speed).amount_g_mm
    ounce_inches = float(convert(Decimal(repr(result)), "g.mm", "oz.in"))
    pounds = mass / 0.45359237
    assert ounce_inches == pytest.approx(6.015 * grade * pounds / speed, rel=1e-4)
    assert ounce_inches == pytest.approx(6.015305 * grade * pounds / speed, rel=1e-6)


def test_half_an_ounce_inch_on_five_kilograms():
    # Computed: e 72.008 um, at 2700 r/min G 20.36.
    amount = 0.5 * 720.077887375
    assert amount / 5 == pytest.approx(72.008, abs=0.0005)
    assert balance_grade(amount, 5, 2700) == pytest.approx(20.36, abs=0.005)


def test_mil_std_167_amounts_to_grade_0_665():
    # MIL-STD-167, U[oz.in] = 4 W[lb] / N: from memory, G 0.665.
    amount = 4 * (8 / 0.45359237) / 1800 * 720.077887375
    assert balance_grade(amount, 8, 1800) == pytest.approx(0.665, abs=0.0005)


def test_centrifugal_force_of_a_small_unbalance():
    # Closed form F = m G omega for U = m G / omega: 8.9064 N. A table of check
    # values rounds it up to 8.907.
    result = centrifugal_force(permissible_by_grade(6.3, 5, 2700).amount_g_mm, 2700)
    assert result == pytest.approx(5 * 6.3e-3 * 2700 * math.pi / 30, rel=1e-12)
    assert result == pytest.approx(8.907, abs=0.001)


@given(GRADES, MASSES, SPEEDS)
def test_a_propeller_at_its_permissible_unbalance_just_meets_the_grade(g, m, n):
    amount = permissible_by_grade(g, m, n).amount_g_mm
    assert balance_grade(amount, m, n) == pytest.approx(g, rel=1e-12)


@given(GRADES, MASSES, SPEEDS, st.floats(1.01, 5))
def test_faster_means_less_and_heavier_means_more(g, m, n, factor):
    plain = permissible_by_grade(g, m, n).amount_g_mm
    faster = permissible_by_grade(g, m, n * factor).amount_g_mm
    heavier = permissible_by_grade(g, m * factor, n).amount_g_mm
    assert faster == pytest.approx(plain / factor, rel=1e-12)
    assert heavier == pytest.approx(plain * factor, rel=1e-12)


@given(st.floats(0, 5000), SPEEDS)
def test_force_grows_with_the_square_of_the_speed(amount, speed):
    force = centrifugal_force(amount, speed)
    assert centrifugal_force(amount, 2 * speed) == pytest.approx(4 * force, rel=1e-12)


def test_a_couple_of_grams_at_the_tip():
    # Common practice, no source: 2 g at the tip.
    result = permissible_by_shop(2, 850)
    assert result.amount_g_mm == 1700
    assert result.basis == "shop's own figure: 2 g at 850 mm"


def test_a_grade_says_what_it_rests_on():
    result = permissible_by_grade(6.3, 5, 2700)
    assert result.basis == "ISO 21940-11, G 6.3 at 2700 r/min, 5 kg"


@pytest.mark.parametrize("bad", [0, -1, math.nan, math.inf])
def test_every_figure_must_be_above_zero(bad):
    refusals = [
        ("balance grade", "mm/s", lambda: permissible_by_grade(bad, 5, 2700)),
        ("mass of the propeller", "kg", lambda: permissible_by_grade(6.3, bad, 2700)),
        ("speed", "r/min", lambda: permissible_by_grade(6.3, 5, bad)),
        ("mass", "g", lambda: permissible_by_shop(bad, 850)),
        ("radius", "mm", lambda: permissible_by_shop(2, bad)),
        ("speed", "r/min", lambda: balance_grade(100, 5, bad)),
        ("mass of the propeller", "kg", lambda: balance_grade(100, bad, 2700)),
        ("speed", "r/min", lambda: centrifugal_force(100, bad)),
    ]
    for name, unit, call in refusals:
        above_zero = f"{name} {bad} {unit} must be above 0 {unit}"
        no_number = f"{name} {bad} is not a finite number; enter a value"
        with pytest.raises(ValueError) as refusal:  # noqa: PT011 - compared below
            call()
        assert str(refusal.value) in {above_zero, no_number}


@pytest.mark.parametrize(
    "function",
    [lambda u: balance_grade(u, 5, 2700), lambda u: centrifugal_force(u, 9)],
    ids=["grade", "force"],
)
def test_an_unbalance_may_be_zero_but_not_less(function):
    assert function(0) == 0
    with pytest.raises(ValueError, match=r"unbalance -1 g.mm must not be negative"):
        function(-1)
    with pytest.raises(ValueError, match="unbalance nan is not a finite number"):
        function(math.nan)
