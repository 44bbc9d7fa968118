"""All that speaks against a reading, found at once and without raising."""

import datetime as dt

import pytest

from records.models import Shop
from records.queries.readings.context import context_for
from records.rules.readings.draft import (
    Draft,
    belongs_here,
    gauge_is_right,
    may_be_logged,
    measures,
    place_is_right,
    thing_can_be_read,
)
from tests import factories

pytestmark = pytest.mark.django_db
NOW = factories.NOON + dt.timedelta(hours=1)


@pytest.fixture
def characteristic(shop):
    return factories.CharacteristicFactory(name="Track")


@pytest.fixture
def propeller(characteristic):
    blank = factories.BlankFactory(route=characteristic.stage.revision)
    return factories.PropellerFactory(blank=blank)


@pytest.fixture
def draft(characteristic, propeller):
    def make(**changes):
        facts = {
            "subject": propeller,
            "characteristic": characteristic,
            "entered": "1.0",
            "unit": "mm",
            "happened_at": factories.NOON,
        }
        return Draft(**{**facts, **changes})

    return make


def context(draft):
    return context_for(
        draft.subject,
        [draft.characteristic],
        [draft.gauge],
        draft.characteristic.stage.revision,
    )


def sentences(findings):
    return [f.sentence for f in findings]


def test_a_good_reading_has_nothing_against_it(draft):
    assert may_be_logged(draft(), context(draft()), NOW) == []


def test_everything_is_found_at_once(draft):
    bad = draft(entered="x", unit="psi", blade=1, joint=1, happened_at=NOW)
    findings = may_be_logged(bad, context(bad), factories.NOON)
    assert {f.field for f in findings} == {
        "entered",
        "unit",
        "blade",
        "joint",
        "happened_at",
    }


def test_a_lot_or_board_is_read_by_any_route(draft):
    other = factories.CharacteristicFactory(on="board")
    mine = draft(subject=factories.BoardFactory(), characteristic=other)
    assert belongs_here(mine, context(mine)) == []


def test_a_blank_is_read_by_its_own_revision_only(draft, propeller):
    newer = factories.RouteRevisionFactory(route=propeller.blank.route.route, number=2)
    stage = factories.StageFactory(revision=newer, name="Press")
    other = factories.CharacteristicFactory(stage=stage, on="blank")
    mine = draft(subject=propeller.blank, characteristic=other)
    [finding] = belongs_here(mine, context(mine))
    assert finding.sentence.startswith("Stage Press belongs to")
    assert "is built by" in finding.sentence


def test_what_lies_in_a_blank_is_read_by_its_route(draft):
    blank = factories.glued_blank()
    load = blank.loaded.get().load
    for thing in (blank.laminations.first(), blank.spreads.first().mix, load):
        other = factories.CharacteristicFactory(on="mix")
        mine = draft(subject=thing, characteristic=other)
        assert any(
            "is built by" in s for s in sentences(belongs_here(mine, context(mine)))
        )


@pytest.mark.parametrize("state", ["released", "delivered"])
def test_what_has_left_is_read_with_a_warning(propeller, state):
    propeller.state = state
    [finding] = thing_can_be_read(propeller)
    assert not finding.blocks


@pytest.mark.parametrize("state", ["in_work", "returned"])
def test_what_is_in_the_shop_is_read(propeller, state):
    propeller.state = state
    assert thing_can_be_read(propeller) == []


def test_what_is_scrapped_or_void_is_not_read(propeller):
    propeller.state = propeller.State.SCRAPPED
    assert thing_can_be_read(propeller)[0].blocks
    blank = factories.BlankFactory(state="scrapped")
    assert thing_can_be_read(blank)[0].blocks
    void = factories.LaminationFactory(state="void", void_reason="Crack")
    assert "Crack" in thing_can_be_read(void)[0].sentence


@pytest.mark.parametrize(
    ("blade", "good"), [(1, True), (2, True), (0, False), (3, False)]
)
def test_both_edges_of_the_blades(draft, characteristic, blade, good):
    tip = factories.CharacteristicFactory(stage=characteristic.stage, per="blade")
    mine = draft(characteristic=tip, blade=blade)
    assert (place_is_right(mine, context(mine)) == []) is good


@pytest.mark.parametrize(
    ("joint", "good"), [(1, True), (5, True), (0, False), (6, False)]
)
def test_both_edges_of_the_joints(draft, characteristic, propeller, joint, good):
    gap = factories.CharacteristicFactory(
        stage=characteristic.stage, per="joint", on="blank"
    )
    mine = draft(subject=propeller.blank, characteristic=gap, joint=joint)
    assert (place_is_right(mine, context(mine)) == []) is good


def test_what_is_needed_is_asked_for(draft, characteristic):
    at = factories.CharacteristicFactory(stage=characteristic.stage, per="station")
    mine = draft(characteristic=at)
    findings = place_is_right(mine, context(mine))
    assert [f.field for f in findings] == ["blade", "station"]
    joint = factories.CharacteristicFactory(stage=characteristic.stage, per="joint")
    mine = draft(characteristic=joint)
    assert [f.field for f in place_is_right(mine, context(mine))] == ["joint"]


def gauge(**kwargs):
    made = factories.GaugeFactory(**kwargs)
    factories.CalibrationFactory(gauge=made)
    return made


@pytest.mark.parametrize(
    ("entered", "good"),
    [("0", True), ("2000", True), ("2000.1", False), ("-0.1", False)],
)
def test_both_ends_of_the_gauge(draft, entered, good):
    mine = draft(entered=entered, gauge=gauge())
    assert (gauge_is_right(mine, context(mine)) == []) is good


def test_an_unfit_gauge_blocks_or_warns_as_the_shop_sets(draft, shop):
    mine = draft(gauge=factories.GaugeFactory())
    [finding] = gauge_is_right(mine, context(mine))
    assert finding.blocks
    assert finding.sentence.endswith("has never been calibrated.")
    shop.overdue_gauge = Shop.OverdueGauge.FLAG
    shop.save()
    [finding] = gauge_is_right(mine, context(mine))
    assert not finding.blocks


def test_a_gauge_is_not_blamed_for_an_unknown_unit(draft):
    mine = draft(unit="ell", gauge=gauge())
    assert gauge_is_right(mine, context(mine)) == []


def test_a_question_may_name_any_gauge(draft, characteristic):
    question = factories.CharacteristicFactory(
        stage=characteristic.stage, kind="yes_no", unit=""
    )
    mine = draft(characteristic=question, entered="yes", unit="", gauge=gauge())
    assert gauge_is_right(mine, context(mine)) == []


def test_the_press_says_what_is_measured(draft, characteristic):
    press = factories.PressFactory(kind="screws", rams=2, bore_mm=20, nut_factor="0.2")
    load = factories.PressLoadFactory(press=press)
    shown = factories.CharacteristicFactory(
        stage=characteristic.stage, on="load", computed="glue_line_pressure"
    )
    assert measures(draft(subject=load, characteristic=shown)) == "torque"
    assert measures(draft()) == ""


def test_no_query_while_asking(draft, django_assert_num_queries):
    mine = draft(gauge=gauge())
    laid = context(mine)
    with django_assert_num_queries(0):
        may_be_logged(mine, laid, NOW)
