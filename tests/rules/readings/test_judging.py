"""A reading is judged digit for digit, in the limit's unit."""

from decimal import Decimal

import pytest

from records.models import Characteristic, Press, PressLoad, Reading
from records.rules.readings.judging import (
    as_stored,
    judge_answer,
    judge_glue_line,
    judge_range,
    judge_value,
)
from records.rules.readings.limits import InForce

D = Decimal


def limit(low=None, high=None, unit="mm"):
    return InForce(low and D(low), high and D(high), unit, "drawing")


def test_on_the_limit_is_inside():
    # JCGM 106:2012, 8.2, simple acceptance.
    assert judge_value(D("1.5"), "mm", limit(high="1.5"), rule="simple").verdict == (
        "inside"
    )
    beyond = judge_value(D("1.50000001"), "mm", limit(high="1.5"), rule="simple")
    assert beyond.verdict == "outside"


def test_conversion_rounds_nothing_before_judging():
    # 1 in is 25.4 mm exactly (NIST SP 811, Appendix B).
    on_it = judge_value(D("2.375"), "in", limit(high="60.325"), rule="simple")
    assert (on_it.verdict, on_it.judged) == ("inside", D("60.325"))
    assert on_it.value_si == pytest.approx(0.060325)


def test_the_uncertainty_goes_along_into_the_limits_unit():
    judged = judge_value(
        D("1"), "in", limit(high="30"), rule="guarded", uncertainty=0.001
    )
    assert judged.uncertainty == pytest.approx(0.0254)
    assert judged.unit == "mm"


def test_a_difference_of_temperatures_has_no_zero_point():
    judged = judge_value(
        D("70"), "degF", limit(low="21", unit="degC"), rule="simple", uncertainty=0.9
    )
    assert judged.verdict == "inside"  # 70 degF is 21.1 degC
    assert judged.uncertainty == pytest.approx(0.5)


def test_the_guarded_rule_leaves_a_band_undecided():
    # ISO 14253-1: 1.65 standard uncertainties (factor from memory).
    def verdict(value):
        return judge_value(
            D(value), "mm", limit(high="1.5"), rule="guarded", uncertainty=0.1
        ).verdict

    assert verdict("1.335") == "inside"
    assert verdict("1.3351") == "undecided"
    assert verdict("1.665") == "undecided"
    assert verdict("1.6651") == "outside"


def test_without_a_limit_the_figure_is_kept_and_not_judged():
    judged = judge_value(D("40.02"), "mm", None, rule="simple")
    assert (judged.verdict, judged.judged, judged.rule) == ("no_limit", D("40.02"), "")


@pytest.mark.parametrize(("answer", "verdict"), [("yes", "inside"), ("no", "outside")])
def test_yes_is_inside(answer, verdict):
    assert judge_answer(answer).verdict == verdict


def test_the_uncertainty_of_a_press_gauge_grows_with_its_leverage():
    press = Press(kind="rams", rams=4, bore_mm=D(75))
    load = PressLoad(press=press, glued_area_mm2=D(270_000))
    judged = judge_glue_line(
        D("18.3"), "MPa", load, None, rule="simple", uncertainty=0.1
    )
    # 4 (pi/4) 75 mm squared over 270 000 mm2 is 0.06545 (closed form).
    assert judged.uncertainty == pytest.approx(0.06545e5, rel=1e-3)
    assert float(judged.judged) == pytest.approx(18.3e6 * 0.06545, rel=1e-3)


def reading(pk, entered, unit="mm", uncertainty=None):
    return Reading(pk=pk, entered=entered, unit=unit, standard_uncertainty=uncertainty)


def test_a_difference_is_highest_less_lowest():
    # Track is max - min over the blades: +0.4, -0.3, +0.1 is 0.7 mm (check values).
    rows = [reading(1, "+0.4"), reading(2, "-0.3"), reading(3, "0,1")]
    characteristic = Characteristic(unit="mm")
    shown, judged = judge_range(rows, characteristic, limit(high="0.7"), rule="simple")
    assert (shown, judged.verdict) == (D("0.7"), "inside")


def test_a_difference_of_readings_in_two_units_is_exact():
    rows = [reading(1, "1", "in"), reading(2, "25.3", "mm")]
    shown, judged = judge_range(
        rows, Characteristic(unit="mm"), limit(high="0.1"), rule="simple"
    )
    assert (shown, judged.verdict) == (D("0.1"), "inside")


def test_the_uncertainty_of_a_difference_is_that_of_both_ends():
    rows = [reading(1, "1", uncertainty=0.3), reading(2, "2", uncertainty=0.4)]
    _, judged = judge_range(rows, Characteristic(unit="mm"), None, rule="simple")
    assert judged.uncertainty == pytest.approx(0.5)  # root sum of squares, GUM 5.1.2
    rows.append(reading(3, "3"))
    _, judged = judge_range(rows, Characteristic(unit="mm"), None, rule="simple")
    assert judged.uncertainty is None


def test_a_figure_is_rounded_to_its_column_after_judging():
    assert as_stored(D("0.123456789")) == D("0.12345679")
    assert as_stored(None) is None
