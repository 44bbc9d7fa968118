"""False acceptance and false rejection against published and independent figures."""

import csv
import math
from pathlib import Path
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy import optimize, stats

from records.engineering.risk import decision_risk, worst_false_accept

TABLE = Path(__file__).resolve().parents[2] / "shared" / "risk_pfa.csv"
PHI = NormalDist().cdf


def rows(wanted):
    lines = TABLE.read_text().splitlines()
    table = csv.DictReader(line for line in lines if not line.startswith("#"))
    return [
        tuple(float(row[key]) for key in list(row)[1:])
        for row in table
        if row["set"] == wanted
    ]


def centred(deviation, uncertainty, tolerance=1.0, guard_band=0.0):
    """Return the risks of a process in the middle of its limits."""
    risk = decision_risk(
        process_mean=0,
        process_deviation=deviation,
        standard_uncertainty=uncertainty,
        low=-tolerance,
        high=tolerance,
        guard_band=guard_band,
    )
    return risk.false_accept, risk.false_reject


def deviation_for(in_tolerance):
    return 1 / NormalDist().inv_cdf((1 + in_tolerance) / 2)


# shared/risk_pfa.csv, set rp19: computed by quadrature and by suncal 1.7.1, whose own
# tests compare them with the draft tables of NCSLI RP-19.
@pytest.mark.parametrize(("ratio", "in_tolerance", "pfa", "pfr"), rows("rp19"))
def test_risks_agree_with_the_draft_tables_of_rp_19(ratio, in_tolerance, pfa, pfr):
    deviation = deviation_for(in_tolerance)
    assert centred(deviation, deviation / ratio) == pytest.approx((pfa, pfr), abs=1e-7)


# shared/risk_pfa.csv, set tur: u = T / (2 TUR), by quadrature and by suncal 1.7.1.
@pytest.mark.parametrize(("tur", "in_tolerance", "pfa", "pfr"), rows("tur"))
def test_risks_agree_with_an_independent_package(tur, in_tolerance, pfa, pfr):
    result = centred(deviation_for(in_tolerance), 1 / (2 * tur))
    assert result == pytest.approx((pfa, pfr), abs=1e-7)


# Deaver's values as in the tests of suncal; his ratio is process deviation over
# uncertainty, not T / (2u): the two agree only for a tolerance of two deviations.
@pytest.mark.parametrize(
    ("sigmas", "ratio", "guard_share", "pfa", "pfr"),
    [
        (2.0, 4, 0.0, 0.008, 0.015),
        (2.5, 4, 0.0, 0.0025, None),
        (2.5, 1, 0.0, 0.005, None),
        (2.0, 2, 0.09, 0.008, 0.066),
    ],
)
def test_risks_agree_with_deaver(sigmas, ratio, guard_share, pfa, pfr):
    guard = guard_share * sigmas
    accept, reject = centred(1, 1 / ratio, tolerance=sigmas, guard_band=guard)
    assert accept == pytest.approx(pfa, abs=5e-4)
    if pfr is not None:
        assert reject == pytest.approx(pfr, abs=5e-4)


def test_the_other_meaning_of_the_ratio_gives_another_risk():
    # T / (2u) = 4 at a tolerance of 2.5 deviations: 0.00283 (computed).
    assert centred(1, 2.5 / 8, tolerance=2.5)[0] == pytest.approx(0.00283, abs=5e-6)


def test_resistors_of_jcgm_106():
    # JCGM 106:2012, 9.5 (inputs from memory): in tolerance 0.9044, Rc 0.0189,
    # Rp 0.0372.
    assert 1 - 2 * PHI(-0.2 / 0.12) == pytest.approx(0.9044, abs=5e-5)
    result = decision_risk(
        process_mean=0,
        process_deviation=0.12,
        standard_uncertainty=0.04,
        low=-0.2,
        high=0.2,
    )
    assert result.false_accept == pytest.approx(0.0189, abs=5e-5)
    assert result.false_reject == pytest.approx(0.0372, abs=5e-5)


@pytest.mark.parametrize(
    ("tur", "worst"), [(4, 0.0224), (3, 0.0291), (2, 0.0418), (1, 0.0737)]
)
def test_worst_risk_over_all_process_spreads(tur, worst):
    # Computed from the definition, to 0.01 %.
    result = optimize.minimize_scalar(
        lambda deviation: -centred(deviation, 1 / (2 * tur))[0],
        bounds=(0.3, 3),
        method="bounded",
        options={"xatol": 1e-3},
    )
    assert -result.fun == pytest.approx(worst, abs=5e-5)


@pytest.mark.parametrize("guard_band", [0.0, 0.2])
def test_risks_agree_with_the_two_dimensional_normal_of_scipy(guard_band):
    mean, deviation, u, low, high = 0.3, 0.6, 0.25, -1.0, 1.2
    together = stats.multivariate_normal(
        [mean, mean],
        [[deviation**2, deviation**2], [deviation**2, deviation**2 + u**2]],
    )
    a, b = low + guard_band, high - guard_band
    both = together.cdf([high, b], lower_limit=[low, a])
    reading = stats.norm(mean, math.hypot(deviation, u))
    part = stats.norm(mean, deviation)
    result = decision_risk(
        process_mean=mean,
        process_deviation=deviation,
        standard_uncertainty=u,
        low=low,
        high=high,
        guard_band=guard_band,
    )
    accepted = reading.cdf(b) - reading.cdf(a)
    good = part.cdf(high) - part.cdf(low)
    assert result.false_accept == pytest.approx(accepted - both, abs=1e-6)
    assert result.false_reject == pytest.approx(good - both, abs=1e-6)


def test_one_limit_agrees_with_simulated_parts():
    # 400 000 parts: standard error of the risks is under 0.0003.
    random = np.random.default_rng(5)
    parts = random.normal(10, 2, 400_000)
    readings = parts + random.normal(0, 0.5, 400_000)
    result = decision_risk(
        process_mean=10,
        process_deviation=2,
        standard_uncertainty=0.5,
        low=None,
        high=12,
        guard_band=0.4,
    )
    accepted, good = readings <= 11.6, parts <= 12
    assert result.false_accept == pytest.approx(np.mean(accepted & ~good), abs=0.001)
    assert result.false_reject == pytest.approx(np.mean(~accepted & good), abs=0.001)


def test_a_lower_limit_alone_mirrors_an_upper_one():
    process = {"process_deviation": 2, "standard_uncertainty": 0.5, "guard_band": 0.4}
    upper = decision_risk(process_mean=10, low=None, high=12, **process)
    lower = decision_risk(process_mean=-10, low=-12, high=None, **process)
    assert lower.false_accept == pytest.approx(upper.false_accept, rel=1e-9)
    assert lower.false_reject == pytest.approx(upper.false_reject, rel=1e-9)


PROCESSES = st.tuples(
    st.floats(-3, 3), st.floats(0.01, 10), st.floats(1e-4, 10), st.floats(0, 0.4)
)


@settings(max_examples=50)
@example((0.0, 1.0, 0.001, 0.3))
@example((0.0, 10.0, 0.0001, 0.4))
@given(PROCESSES)
def test_risks_add_up_to_the_share_accepted(process):
    # A reading is normal with both variances: accepted = good - rejected + bad taken.
    mean, deviation, u, guard = process
    result = decision_risk(
        process_mean=mean,
        process_deviation=deviation,
        standard_uncertainty=u,
        low=-1,
        high=1,
        guard_band=guard,
    )
    reading = NormalDist(mean, math.hypot(deviation, u))
    part = NormalDist(mean, deviation)
    accepted = reading.cdf(1 - guard) - reading.cdf(guard - 1)
    good = part.cdf(1) - part.cdf(-1)
    assert good - result.false_reject + result.false_accept == pytest.approx(
        accepted, abs=1e-12
    )
    assert result.false_accept >= 0
    assert result.false_reject >= 0


@settings(max_examples=30)
@given(PROCESSES)
def test_mirrored_process_has_the_same_risks(process):
    mean, deviation, u, guard = process
    here = decision_risk(
        process_mean=mean,
        process_deviation=deviation,
        standard_uncertainty=u,
        low=-1,
        high=2,
        guard_band=guard,
    )
    there = decision_risk(
        process_mean=-mean,
        process_deviation=deviation,
        standard_uncertainty=u,
        low=-2,
        high=1,
        guard_band=guard,
    )
    assert there.false_accept == pytest.approx(here.false_accept, abs=1e-10)
    assert there.false_reject == pytest.approx(here.false_reject, abs=1e-10)


@settings(max_examples=30)
@given(st.floats(0.1, 2), st.floats(0.01, 1), st.sampled_from([0.001, 25.4, 1000.0]))
def test_risks_do_not_depend_on_the_unit(deviation, u, scale):
    here = centred(deviation, u)
    there = centred(scale * deviation, scale * u, tolerance=scale)
    assert there == pytest.approx(here, rel=1e-6, abs=1e-10)


@settings(max_examples=30)
@given(st.floats(0.1, 2), st.floats(0.01, 1), st.floats(0, 0.4), st.floats(0, 0.4))
def test_a_wider_guard_band_trades_bad_parts_for_good_ones(deviation, u, one, other):
    narrow = centred(deviation, u, guard_band=min(one, other))
    wide = centred(deviation, u, guard_band=max(one, other))
    assert wide[0] <= narrow[0] + 1e-10
    assert wide[1] >= narrow[1] - 1e-10


def test_a_process_far_inside_its_limits_risks_nothing():
    assert centred(0.05, 0.01) == pytest.approx((0, 0), abs=1e-12)


def test_a_process_far_outside_its_limits_is_nearly_always_found():
    result = decision_risk(
        process_mean=9,
        process_deviation=0.5,
        standard_uncertainty=0.1,
        low=None,
        high=1,
    )
    assert (result.false_accept, result.false_reject) == pytest.approx(
        (0, 0), abs=1e-12
    )


# Worst risk at the acceptance limit for a guard band of r U, U = 2u: Phi(-2r). Under
# 2.5 % for w = U and 50 % without one: ILAC-G8, as quoted publicly; others computed.
@pytest.mark.parametrize(
    ("r", "worst", "tolerance"),
    [
        (0, 0.5, 1e-15),
        (0.83, 0.0485, 5e-5),
        (1, 0.02275, 5e-6),
        (1.5, 0.00135, 5e-6),
        (3, 1e-9, 5e-11),
    ],
)
def test_worst_false_accept_at_published_guard_bands(r, worst, tolerance):
    result = worst_false_accept(r * 2 * 0.05, 0.05)
    assert result == pytest.approx(worst, abs=tolerance)
    assert result == pytest.approx(stats.norm.sf(2 * r), rel=1e-9)


def test_guard_factor_of_iso_14253_1_leaves_under_five_percent():
    # Factor 1.65 from memory, 4.95 % computed.
    assert worst_false_accept(1.65, 1.0) == pytest.approx(0.0495, abs=5e-5)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"low": None, "high": None}, "no limit is given: state a lower limit"),
        ({"low": 2}, "limits 2.0 to 1.0 leave nothing to accept"),
        ({"low": 1}, "limits 1.0 to 1.0 leave nothing to accept"),
        ({"guard_band": 1}, "limits -1.0 to 1.0 leave nothing to accept within a gu"),
        ({"guard_band": -0.1}, "guard band -0.1 must not be negative"),
        ({"guard_band": math.nan}, "guard band nan is not a finite number"),
        ({"low": math.nan}, "lower limit nan is not a finite number"),
        ({"high": math.inf}, "upper limit inf is not a finite number"),
        ({"process_mean": math.nan}, "process mean nan is not a finite number"),
        ({"process_deviation": 0}, "process deviation 0 must be above 0"),
        ({"process_deviation": math.inf}, "process deviation inf is not a finite"),
        ({"standard_uncertainty": 0}, "standard uncertainty 0 must be above 0"),
        ({"standard_uncertainty": -1}, "standard uncertainty -1 must be above 0"),
    ],
)
def test_input_that_gives_no_answer_is_refused(change, sentence):
    numbers = {
        "process_mean": 0,
        "process_deviation": 0.5,
        "standard_uncertainty": 0.1,
        "low": -1,
        "high": 1,
    }
    with pytest.raises(ValueError, match=f"^{sentence}"):
        decision_risk(**{**numbers, **change})


def test_a_guard_band_may_leave_little_to_accept():
    accept, reject = centred(0.5, 0.5, guard_band=0.999)
    assert 0 < accept < 1e-4
    assert 0.95 < reject < 1


@pytest.mark.parametrize(
    ("guard", "u", "sentence"),
    [
        (-0.1, 1, "guard band -0.1 must not be negative"),
        (math.inf, 1, "guard band inf is not a finite number"),
        (0, 0, "standard uncertainty 0 must be above 0"),
        (0, math.nan, "standard uncertainty nan is not a finite number"),
    ],
)
def test_worst_false_accept_refuses_numbers_out_of_range(guard, u, sentence):
    with pytest.raises(ValueError, match=f"^{sentence}"):
        worst_false_accept(guard, u)
