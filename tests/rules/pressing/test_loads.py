import datetime as dt
from decimal import Decimal

import pytest

from records.models import GlueSheet, Material, PressLoad
from records.queries.gluing.times import tables_of
from records.rules.pressing import loads as pressing
from records.rules.pressing.loads import HARDWOOD_PA, SOFTWOOD_PA
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db
PSI = 6894.757293168361


def sheet(low, high, family="resorcinol"):
    return GlueSheet(
        adhesive=Material(name=f"Glue {low}", family=family),
        pressure_low_pa=Decimal(low),
        pressure_high_pa=Decimal(high),
    )


def test_the_range_is_what_every_glue_bears():
    findings = pressing.range_for(
        [sheet(700_000, 1_400_000), sheet(900_000, 1_200_000)]
    )
    assert (findings.low_pa, findings.high_pa) == (900_000, 1_200_000)
    assert findings.findings == ()


def test_glues_that_do_not_go_together_are_named():
    findings = pressing.range_for([sheet(700_000, 1_400_000), sheet(100_000, 300_000)])
    assert (findings.low_pa, findings.high_pa) == (700_000, 300_000)
    assert "Glue 700000" in findings.findings[0].sentence
    assert not findings.findings[0].blocks


def test_without_glue_there_is_no_range():
    assert pressing.range_for([]) is None


def test_published_ranges_are_those_of_the_advisory_circular():
    # AC 43.13-1B, 1-10, resorcinol: 125-150 psi softwood, 150-200 psi hardwood.
    assert pytest.approx((125 * PSI, 150 * PSI), rel=1e-6) == SOFTWOOD_PA
    assert pytest.approx((150 * PSI, 200 * PSI), rel=1e-6) == HARDWOOD_PA


def test_what_the_woods_ask_is_said_for_resorcinol_only():
    woods = [
        Material(name="Spruce", hardwood=False),
        Material(name="Birch", hardwood=True),
        Material(name="Bamboo", hardwood=None),
    ]
    soft, hard = pressing.wood_asks([sheet(1, 2)], woods)
    assert soft.startswith("Spruce is softwood: AC 43.13-1B, 1-10")
    assert "Birch is hardwood" in hard
    assert pressing.wood_asks([sheet(1, 2, family="urea")], woods) == []


@pytest.mark.parametrize(
    ("area", "possible"),
    [(134_999, False), (135_000, True), (1_080_000, True), (1_080_001, False)],
)
def test_an_area_is_that_of_the_joints_within_a_factor(area, possible):
    findings = pressing.area_is_possible(Decimal(area), [270_000.0, 270_000.0])
    assert (findings == []) is possible


def test_a_blank_whose_joints_nobody_noted_is_not_known():
    waited = pressing.judge_waiting([], {}, NOON)
    assert waited.verdict == "unknown"


def test_the_worst_joint_decides_and_every_one_is_named():
    blank = factories.glued_blank(4)
    joints = list(blank.spreads.select_related("mix"))
    tables = tables_of({joint.mix.sheet_id for joint in joints})
    late = NOON + dt.timedelta(minutes=8 + 25)
    waited = pressing.judge_waiting(joints, tables, late)
    assert waited.verdict == "outside"
    assert [flag[:7] for flag in waited.flags] == ["Joint 1", "Joint 2", "Joint 3"]
    early = pressing.judge_waiting(joints, tables, NOON)
    assert "closed after pressure went on" in early.flags[0]


def test_a_press_is_opened_after_it_closed_and_after_its_samples():
    load = PressLoad(number="P1", on_at=NOON)
    later = NOON + dt.timedelta(hours=9)
    assert pressing.may_be_opened(load, later, None, later) == []
    assert pressing.may_be_opened(load, NOON, None, later)
    assert pressing.may_be_opened(load, later, later, later) == []
    hour = dt.timedelta(hours=1)
    assert pressing.may_be_opened(load, later - hour, later, later)


def test_a_press_of_an_unknown_kind_has_no_figures():
    (finding,) = pressing.press_has_its_figures("lever", None, None, None, None)
    assert finding.field == "kind"
