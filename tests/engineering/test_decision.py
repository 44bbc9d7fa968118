"""Judging a reading: verdict, probability of conformity, guard band."""

import math
from decimal import Decimal
from statistics import NormalDist

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from records.engineering.decision import (
    GUARD_FACTOR,
    RULES,
    VERDICTS,
    Judgement,
    Rule,
    Verdict,
    judge,
)

D = Decimal
DECIMALS = st.decimals(-1000, 1000, places=3)
UNCERTAINTIES = st.floats(1e-6, 100)


@pytest.mark.parametrize(
    ("value", "low", "high", "u", "printed"),
    [
        # JCGM 106:2012, Zener diode: inputs from memory, printed 0.92.
        ("-5.47", None, "-5.40", 0.05, 0.92),
        # JCGM 106:2012, container: inputs from memory, 0.989 computed from them.
        ("509.7", "490", None, 8.6, 0.989),
        # JCGM 106:2012, motor oil: inputs from memory, printed 0.66.
        ("13.6", "12.5", "16.3", 1.8, 0.66),
    ],
)
def test_probability_agrees_with_jcgm_106_examples(value, low, high, u, printed):
    findings = judge(
        D(value),
        None if low is None else D(low),
        None if high is None else D(high),
        standard_uncertainty=u,
        rule="simple",
    )
    assert findings.probability_of_conformity == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize("value", ["9.5", "9.9", "10", "10.7", "11", "12.4"])
def test_probability_agrees_with_scipy(value):
    findings = judge(D(value), D(10), D(11), standard_uncertainty=0.3, rule="guarded")
    y = stats.norm(float(value), 0.3)
    expected = y.cdf(11) - y.cdf(10)
    assert findings.probability_of_conformity == pytest.approx(expected, abs=1e-14)


def test_guarded_acceptance_at_the_guard_leaves_under_five_percent():
    # ISO 14253-1 default guard factor 1.65 (from memory) -> 4.95 % (computed).
    findings = judge(D("8.35"), None, D(10), standard_uncertainty=1.0, rule="guarded")
    assert findings.verdict == "inside"
    risk = 1 - findings.probability_of_conformity
    assert risk == pytest.approx(NormalDist().cdf(-1.65), abs=1e-12)
    assert risk == pytest.approx(0.0495, abs=5e-5)


@pytest.mark.parametrize(
    ("value", "verdict"),
    [
        ("9.999", "outside"),
        ("10.000", "inside"),
        ("10.500", "inside"),
        ("11.000", "inside"),
        ("11.001", "outside"),
    ],
)
def test_simple_acceptance_takes_the_limit_itself_as_inside(value, verdict):
    # JCGM 106:2012 8.2: the acceptance interval is the tolerance interval.
    findings = judge(D(value), D(10), D(11), standard_uncertainty=5.0, rule="simple")
    assert findings.verdict == verdict
    assert findings.guard_band == 0


@pytest.mark.parametrize(
    ("value", "verdict"),
    [
        ("9.8349", "outside"),
        ("9.835", "undecided"),
        ("10", "undecided"),
        ("10.1649", "undecided"),
        ("10.165", "inside"),
        ("10.835", "inside"),
        ("10.8351", "undecided"),
        ("11.165", "undecided"),
        ("11.1651", "outside"),
    ],
)
def test_guarded_rule_keeps_1_65_u_on_both_sides_of_each_limit(value, verdict):
    # ISO 14253-1:2017 5.2 to 5.4 (clauses from memory).
    findings = judge(D(value), D(10), D(11), standard_uncertainty=0.1, rule="guarded")
    assert findings.verdict == verdict
    assert findings.guard_band == D("0.165")


def test_guard_factor_is_the_shops_to_set():
    findings = judge(
        D("10.2"),
        D(10),
        None,
        standard_uncertainty=0.1,
        rule="guarded",
        guard_factor=D(2),
    )
    assert findings == Judgement(
        Verdict.INSIDE, findings.probability_of_conformity, D("0.2")
    )
    assert findings.probability_of_conformity == pytest.approx(0.97725, abs=5e-6)


def test_guard_factor_of_zero_leaves_nothing_undecided():
    findings = judge(
        D(10),
        D(10),
        None,
        standard_uncertainty=0.1,
        rule="guarded",
        guard_factor=D(0),
    )
    assert findings.verdict == "inside"
    assert findings.guard_band == 0


def test_limits_closer_than_two_guard_bands_are_never_proven_inside():
    findings = judge(
        D("1.05"), D(1), D("1.1"), standard_uncertainty=0.1, rule="guarded"
    )
    assert findings.verdict == "undecided"


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize(
    ("value", "low", "high", "verdict"),
    [
        ("1", "1", "1", "inside"),
        ("1", None, "1", "inside"),
        ("1", "1", None, "inside"),
        ("0.9", "1", None, "outside"),
        ("0.9", "1", "2", "outside"),
        ("2.1", "1", "2", "outside"),
        ("2.1", None, "2", "outside"),
    ],
)
def test_without_uncertainty_both_rules_are_certain(rule, value, low, high, verdict):
    findings = judge(D(value), low and D(low), high and D(high), rule=rule)
    assert findings.verdict == verdict
    assert findings.probability_of_conformity == (1.0 if verdict == "inside" else 0.0)
    assert findings.guard_band == 0


def test_limit_is_compared_digit_for_digit():
    # As a float, 0.1 + 0.2 lies above 0.3.
    findings = judge(D("0.1") + D("0.2"), None, D("0.3"), rule="simple")
    assert findings.verdict == "inside"


@given(DECIMALS, DECIMALS, DECIMALS, UNCERTAINTIES, st.sampled_from(RULES))
def test_mirrored_reading_gets_the_same_judgement(value, a, b, u, rule):
    low, high = sorted([a, b])
    here = judge(value, low, high, standard_uncertainty=u, rule=rule)
    there = judge(-value, -high, -low, standard_uncertainty=u, rule=rule)
    assert here.verdict == there.verdict
    assert here.guard_band == there.guard_band
    assert here.probability_of_conformity == pytest.approx(
        there.probability_of_conformity, abs=1e-12
    )


@given(DECIMALS, DECIMALS, st.sampled_from(["0.01", "0.5", "4"]))
def test_judgement_does_not_depend_on_the_unit(value, limit, u):
    mm = judge(value, limit, None, standard_uncertainty=float(u), rule="guarded")
    um = judge(
        value * 1000,
        limit * 1000,
        None,
        standard_uncertainty=float(u) * 1000,
        rule="guarded",
    )
    assert mm.verdict == um.verdict
    assert um.guard_band == mm.guard_band * 1000
    assert um.probability_of_conformity == pytest.approx(mm.probability_of_conformity)


@given(DECIMALS, DECIMALS, UNCERTAINTIES)
def test_one_sided_probabilities_add_to_one(value, limit, u):
    above = judge(value, limit, None, standard_uncertainty=u, rule="simple")
    below = judge(value, None, limit, standard_uncertainty=u, rule="simple")
    total = above.probability_of_conformity + below.probability_of_conformity
    assert total == pytest.approx(1, abs=1e-12)


@given(DECIMALS, DECIMALS, DECIMALS, UNCERTAINTIES)
def test_probability_stays_between_nought_and_one(value, a, b, u):
    low, high = sorted([a, b])
    findings = judge(value, low, high, standard_uncertainty=u, rule="simple")
    assert 0 <= findings.probability_of_conformity <= 1


@given(DECIMALS, DECIMALS, DECIMALS, UNCERTAINTIES)
def test_guarded_rule_only_makes_a_simple_verdict_undecided(value, a, b, u):
    low, high = sorted([a, b])
    simple = judge(value, low, high, standard_uncertainty=u, rule="simple")
    guarded = judge(value, low, high, standard_uncertainty=u, rule="guarded")
    assert guarded.verdict in {simple.verdict, "undecided"}


@given(DECIMALS, DECIMALS, UNCERTAINTIES)
def test_guarded_inside_is_never_less_likely_than_95_percent(value, limit, u):
    findings = judge(value, limit, None, standard_uncertainty=u, rule="guarded")
    assume(findings.verdict == "inside")
    assert findings.probability_of_conformity > 0.95


@pytest.mark.parametrize("bad", ["NaN", "sNaN", "Infinity", "-Infinity"])
@pytest.mark.parametrize(
    ("position", "name"), [(0, "value"), (1, "lower limit"), (2, "upper limit")]
)
def test_numbers_that_are_not_finite_are_refused(bad, position, name):
    numbers = [D(1), D(0), D(2)]
    numbers[position] = D(bad)
    with pytest.raises(ValueError, match=rf"^{name} {bad} is not a finite number$"):
        judge(*numbers, rule="simple")


def test_no_limit_at_all_is_refused():
    with pytest.raises(
        ValueError, match=r"^no limit is given: state a lower limit, an upper, or both$"
    ):
        judge(D(1), None, None, rule="simple")


def test_crossed_limits_are_refused():
    with pytest.raises(ValueError, match=r"^lower limit 2 is above upper limit 1$"):
        judge(D(1), D(2), D(1), rule="simple")


@pytest.mark.parametrize("u", [-1e-9, math.nan, math.inf, -math.inf])
def test_impossible_uncertainty_is_refused(u):
    with pytest.raises(ValueError, match=rf"^standard uncertainty {u} (must|is) not"):
        judge(D(1), D(0), None, standard_uncertainty=u, rule="simple")


@pytest.mark.parametrize("factor", ["-0.01", "nan", "inf"])
def test_impossible_guard_factor_is_refused(factor):
    with pytest.raises(ValueError, match=rf"^guard factor {factor} (must|is) not"):
        judge(D(1), D(0), None, rule="guarded", guard_factor=D(factor))


@pytest.mark.parametrize("rule", ["", "Simple", "strict"])
def test_unknown_rule_names_the_known_ones(rule):
    with pytest.raises(ValueError, match=r"is unknown: use simple or guarded$"):
        judge(D(1), D(0), None, rule=rule)


def test_names_are_plain_words():
    assert VERDICTS == ("inside", "outside", "undecided")
    assert RULES == (Rule.SIMPLE, Rule.GUARDED) == ("simple", "guarded")
    assert D("1.65") == GUARD_FACTOR
