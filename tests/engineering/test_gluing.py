"""Mix ratio, glued area and spread."""

import math

import pytest
import scipy.integrate
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.gluing import (
    BatchParts,
    divide_batch,
    glued_area,
    joint_area,
    mix_ratio,
    ratio_deviation,
    spread,
    spread_per_line,
)
from records.engineering.quadrature import Quadrature
from records.engineering.units import to_si

MASSES = st.floats(min_value=1, max_value=1e5)
RATIOS = st.floats(min_value=0, max_value=200)
WIDTHS = st.lists(st.floats(0.01, 0.5), min_size=3, max_size=15).filter(
    lambda widths: len(widths) % 2 == 1
)


def stations(widths):
    return [0.1 * number for number in range(len(widths))]


# Resorcinol 5:1 by mass: bulletin reprinted in the Falco manual, App. D (seen). Powder
# urea with 65 % water, 500 g take 325 g: maker's page (seen), arithmetic by hand.
@pytest.mark.parametrize(
    ("resin", "hardener", "ratio"), [(500, 100, 20), (500, 325, 65), (500, 0, 0)]
)
def test_mix_ratio(resin, hardener, ratio):
    assert mix_ratio(resin, hardener) == pytest.approx(ratio, abs=1e-12)


def test_ratio_hidden_in_a_bulletin_s_spread():
    # Aerolite 306 (seen): 200 g/m2 of solution holds 140 g/m2 of powder, 400 holds 275.
    assert mix_ratio(140, 200 - 140) == pytest.approx(42.9, abs=0.05)
    assert mix_ratio(275, 400 - 275) == pytest.approx(45.5, abs=0.05)


@pytest.mark.parametrize(
    ("actual", "deviation"), [(20, 0), (21, 5), (19, -5), (0, -100)]
)
def test_deviation_is_a_part_of_the_ratio_specified(actual, deviation):
    assert ratio_deviation(actual, 20) == pytest.approx(deviation)


@given(MASSES, RATIOS)
def test_a_divided_batch_has_its_ratio_and_its_mass(total, ratio):
    parts = divide_batch(total, ratio)
    assert parts.resin_g + parts.hardener_g == pytest.approx(total)
    assert mix_ratio(parts.resin_g, parts.hardener_g) == pytest.approx(ratio, abs=1e-9)


def test_a_batch_of_five_to_one():
    # check-values 5: 600 g total is 500 + 100.
    assert divide_batch(600, 20) == BatchParts(resin_g=500, hardener_g=100)
    assert divide_batch(600, 0) == BatchParts(resin_g=600, hardener_g=0)


@pytest.mark.parametrize(
    ("refuse", "why"),
    [
        (lambda: mix_ratio(0, 1), "^mass of resin 0 g must be above 0 g$"),
        (lambda: mix_ratio(1, -1), "^mass of hardener -1 g must not be negative$"),
        (lambda: ratio_deviation(20, 0), "^specified mix ratio 0 % must be above"),
        (lambda: ratio_deviation(-2, 20), "^mix ratio -2 % must not be negative$"),
        (lambda: divide_batch(0, 20), "^mass of the mix 0 g must be above 0 g$"),
        (lambda: divide_batch(600, -1), "^mix ratio -1 % must not be negative$"),
        (lambda: mix_ratio(math.nan, 1), "^mass of resin nan is not a finite"),
        (lambda: divide_batch(math.inf, 1), "^mass of the mix inf is not a finite"),
    ],
)
def test_impossible_mixes_are_refused(refuse, why):
    with pytest.raises(ValueError, match=why):
        refuse()


def test_a_rectangle_and_a_parabola():
    assert joint_area([0, 1.8], [0.15, 0.15], Quadrature.TRAPEZOID) == pytest.approx(
        0.27
    )
    # Simpson is exact for a parabola: the integral of 0.2 - 0.1 x^2 from -1 to 1.
    widths = [0.1, 0.2, 0.1]
    assert joint_area([-1, 0, 1], widths, Quadrature.SIMPSON) == pytest.approx(1 / 3)
    assert joint_area([-1, 0, 1], widths, Quadrature.TRAPEZOID) == pytest.approx(0.3)


@given(WIDTHS)
def test_area_agrees_with_scipy(widths):
    at = stations(widths)
    assert joint_area(at, widths, Quadrature.SIMPSON) == pytest.approx(
        scipy.integrate.simpson(widths, x=at), rel=1e-9
    )
    assert joint_area(at, widths, Quadrature.TRAPEZOID) == pytest.approx(
        scipy.integrate.trapezoid(widths, x=at), rel=1e-9
    )


@given(WIDTHS, st.sampled_from(Quadrature), st.floats(0.01, 100))
def test_area_scales_and_mirrors(widths, rule, factor):
    at = stations(widths)
    area = joint_area(at, widths, rule)
    assert joint_area(at, widths[::-1], rule) == pytest.approx(area)
    scaled = joint_area(
        [factor * x for x in at], [factor * width for width in widths], rule
    )
    assert scaled == pytest.approx(factor**2 * area)


@pytest.mark.parametrize(
    ("at", "widths", "why"),
    [
        ([0, 1], [0.1, -0.1], r"^width of the blank -0\.1 m must not be negative$"),
        ([0, 1], [0.0, 0.0], "^area of a joint 0 m2 must be above 0 m2$"),
        ([], [], "^stations: 0 given, at least 2 needed$"),
        ([0], [0.1], "^stations: 1 given, at least 2 needed$"),
        ([0, 1], [0.1, math.nan], "^width of the blank nan is not a finite"),
    ],
)
def test_impossible_outlines_are_refused(at, widths, why):
    with pytest.raises(ValueError, match=why):
        joint_area(at, widths, Quadrature.TRAPEZOID)


def test_glued_area_of_a_stack():
    assert glued_area(0.25, 6) == 1.5
    assert glued_area(0.25, 1) == 0.25
    assert glued_area(0.25, 1000) == 250


@pytest.mark.parametrize(
    ("area", "joints", "why"),
    [
        (0, 6, "^area of a joint 0 m2 must be above 0 m2$"),
        (0.25, 0, "^number of joints 0 is outside 1 to 1000$"),
        (0.25, 1001, "^number of joints 1001 is outside 1 to 1000$"),
    ],
)
def test_impossible_stacks_are_refused(area, joints, why):
    with pytest.raises(ValueError, match=why):
        glued_area(area, joints)


# Bulletin (seen): 50, 60, 70 lb per 1000 ft2 of single glue line; g/m2 computed.
@pytest.mark.parametrize(
    ("pounds", "grams"), [(50, 244.12), (60, 292.95), (70, 341.77)]
)
def test_spread_in_the_units_of_a_bulletin(pounds, grams):
    assert to_si(pounds, "lb/1000ft2") * 1000 == pytest.approx(grams, abs=0.005)
    area = to_si(1000.0, "ft2")
    mass = to_si(pounds, "lb") * 1000
    assert spread(mass, 0, area) == pytest.approx(grams, abs=0.005)


@given(MASSES, st.floats(0, 1), st.floats(0.01, 10), st.floats(0.1, 10))
def test_spread_does_not_depend_on_the_size_of_the_job(mass, share, area, factor):
    left = mass * share
    assert spread(mass * factor, left * factor, area * factor) == pytest.approx(
        spread(mass, left, area), abs=1e-6
    )


@pytest.mark.parametrize("left", [0, 600])
def test_nothing_left_and_nothing_used_are_the_edges(left):
    assert spread(600, left, 2.0) == (600 - left) / 2


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        ((0, 0, 2), "^mass of the mix 0 g must be above 0 g$"),
        ((600, -1, 2), "^mass left -1 g is outside 0 to 600 g, the mass of the mix$"),
        ((600, 601, 2), "^mass left 601 g is outside 0 to 600 g, the mass of the mix$"),
        ((600, math.nan, 2), "^mass left nan is not a finite number"),
        ((600, 100, 0), "^glued area 0 m2 must be above 0 m2$"),
    ],
)
def test_impossible_spreads_are_refused(arguments, why):
    with pytest.raises(ValueError, match=why):
        spread(*arguments)


@pytest.mark.parametrize(("faces", "line"), [(1, 150), (2, 300)])
def test_both_faces_make_one_line(faces, line):
    assert spread_per_line(150, faces) == line


@pytest.mark.parametrize("faces", [0, 3, -1])
def test_a_joint_has_two_faces(faces):
    with pytest.raises(ValueError, match=rf"^faces coated {faces} is neither 1 nor 2$"):
        spread_per_line(150, faces)


def test_a_negative_spread_per_face_is_refused():
    assert spread_per_line(0, 2) == 0
    with pytest.raises(ValueError, match=r"^spread per face -1 g/m2 must not be neg"):
        spread_per_line(-1, 2)
