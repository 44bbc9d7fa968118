"""Block shear: strength, wood failure, means and the shop's own minimum."""

import csv
import math
import statistics
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.engineering.coupons import (
    mean_shear_strength,
    mean_wood_failure,
    shear_strength,
    shop_rule_minimum,
    wood_failure,
)

# Wood Handbook Table 5-3a, 12 % moisture content (seen as a transcription).
TABLE = Path(__file__).resolve().parents[2] / "shared" / "wood_table_5_3a_species.csv"
LBF_N = 4.4482216152605
BLOCK_MM2 = 2 * 1.5 * 25.4**2  # nominal block of ASTM D905, from memory


@pytest.mark.parametrize(
    ("load_lbf", "psi", "mpa"),
    [(6000, 2000, 13.790), (8400, 2800, 19.305), (9000, 3000, 20.684)],
)
def test_shear_strength_of_the_nominal_block(load_lbf, psi, mpa):
    # Computed from the definition, ASTM D905: largest load over glued area.
    result = shear_strength(load_lbf * LBF_N, BLOCK_MM2)
    assert result == pytest.approx(mpa, abs=0.0005)
    assert result * 1e6 / 6894.757293168361 == pytest.approx(psi, rel=1e-12)


def test_shear_strength_at_25_kilonewtons():
    # Computed: 25 000 N on 1935.48 mm2 is 12.917 MPa.
    assert shear_strength(25_000, 1935.48) == pytest.approx(12.917, abs=0.0005)


@given(st.floats(0, 1e6), st.floats(1, 1e4), st.floats(0.1, 10))
def test_twice_the_block_carries_twice_the_load(load, area, factor):
    result = shear_strength(load * factor, area * factor)
    assert result == pytest.approx(shear_strength(load, area), rel=1e-12)


def test_edges_of_load_and_area():
    assert shear_strength(0, 1) == 0
    with pytest.raises(ValueError, match="largest load -1 N must not be negative"):
        shear_strength(-1, 1)
    with pytest.raises(ValueError, match="glued area 0 mm2 must be above 0 mm2"):
        shear_strength(1, 0)
    for bad in (math.nan, math.inf):
        with pytest.raises(ValueError, match=r"largest load .* not a finite number"):
            shear_strength(bad, 1)
        with pytest.raises(ValueError, match=r"glued area .* not a finite number"):
            shear_strength(1, bad)


def test_wood_failure_is_the_torn_share():
    assert wood_failure(1548.384, 1935.48) == pytest.approx(80, rel=1e-12)


@given(st.floats(0, 1), st.floats(1, 1e4))
def test_wood_and_glue_make_up_the_whole_line(share, area):
    torn = share * area
    whole = wood_failure(torn, area) + wood_failure(area - torn, area)
    assert whole == pytest.approx(100, rel=1e-12)


def test_edges_of_wood_failure():
    assert wood_failure(0, 1900) == 0
    assert wood_failure(1900, 1900) == 100
    with pytest.raises(ValueError, match="in wood 1901 mm2 is outside 0 to 1900 mm2"):
        wood_failure(1901, 1900)
    with pytest.raises(ValueError, match="in wood -1 mm2 is outside 0 to 1900 mm2"):
        wood_failure(-1, 1900)
    with pytest.raises(ValueError, match="glued area 0 mm2 must be above 0 mm2"):
        wood_failure(0, 0)


@pytest.mark.parametrize("mean", [mean_shear_strength, mean_wood_failure])
def test_mean_lowest_and_scatter(mean):
    results = [12.5, 80.0, 14.5, 13.0]
    result = mean(results)
    assert result.count == 4
    assert result.mean == pytest.approx(30.0)
    assert result.lowest == 12.5
    expected = statistics.stdev(results)
    assert result.standard_deviation == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("mean", [mean_shear_strength, mean_wood_failure])
def test_one_coupon_has_no_scatter_and_none_is_an_error(mean):
    one = mean([14.0])
    assert (one.count, one.mean, one.lowest) == (1, 14.0, 14.0)
    assert one.standard_deviation is None
    assert mean([14.0, 14.0]).standard_deviation == 0
    with pytest.raises(ValueError, match="coupons: 0 given, at least 1 needed"):
        mean([])


def test_edges_of_single_results():
    assert mean_shear_strength([0]).mean == 0
    assert mean_wood_failure([0, 100]).mean == 50
    with pytest.raises(ValueError, match=r"shear strength -0.1 MPa must not be neg"):
        mean_shear_strength([10, -0.1])
    for bad in (-1, 101):
        with pytest.raises(ValueError, match=f"wood failure {bad} % is outside 0 to"):
            mean_wood_failure([bad])
    with pytest.raises(ValueError, match="wood failure nan is not a finite number"):
        mean_wood_failure([math.nan])


@pytest.mark.parametrize(
    ("species", "minimum_mpa"),
    [
        # Computed: 90 % of Table 5-3a shear. A shop rule, not a published minimum.
        ("Birch, yellow", 11.7),
        ("Maple, sugar", 14.5),
        ("Cherry, black", 10.5),
        ("Ash, white", 11.9),
        ("Walnut, black", 8.5),
        ("Oak, white", 12.4),
    ],
)
def test_shop_rule_is_ninety_percent_of_clear_wood(species, minimum_mpa):
    lines = TABLE.read_text().splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    shear = {row["species"]: float(row["shear12_kpa"]) / 1000 for row in rows}
    result = shop_rule_minimum(shear[species])
    assert result.minimum_mpa == pytest.approx(minimum_mpa, abs=0.05)
    assert result.minimum_mpa == pytest.approx(0.9 * shear[species], rel=1e-12)


def test_shop_rule_is_called_a_shop_rule():
    basis = shop_rule_minimum(16.1).basis
    assert basis == "shop rule: 90 % of clear-wood shear strength"


@pytest.mark.parametrize("bad", [0, -1])
def test_shop_rule_needs_a_strength_above_zero(bad):
    with pytest.raises(ValueError, match=f"strength {bad} MPa must be above 0 MPa"):
        shop_rule_minimum(bad)
