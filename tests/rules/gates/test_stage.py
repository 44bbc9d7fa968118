"""A stage says all that is missing; a build by the default route comes to its end."""

import dataclasses
import datetime as dt
from collections import defaultdict

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.models import CouponTest, Limit, Propeller, Reading, Stage, StageToRepeat
from records.queries.builds.progress import progress_of
from records.rules.gates.stage import (
    missing,
    missing_for_stage,
    next_stage,
    next_to_log,
)
from records.rules.readings.draft import Draft
from records.rules.readings.slots import open_slots
from records.services.readings.log import log_grid
from records.services.routes import write_default_route
from records.services.signoffs import sign_stage
from tests import factories

pytestmark = pytest.mark.django_db
HOUR = dt.timedelta(hours=1)


class CouponTestFactory(factories.RowFactory):
    class Meta:
        model = CouponTest

    happened_at = factories.NOON
    method = "chisel"
    wood_failure_pct = 90
    least_wood_failure_pct = 75
    verdict = CouponTest.Verdict.PASSED


class StageToRepeatFactory(factories.RowFactory):
    class Meta:
        model = StageToRepeat


def sentences(findings):
    return [f.sentence for f in findings]


@pytest.fixture
def route(act):
    early = dataclasses.replace(act, at=factories.NOON - HOUR)
    return write_default_route(act=early, name="Laminated")


@pytest.fixture
def propeller(route):
    blank = factories.glued_blank(route=route)
    mix = blank.spreads.first().mix
    CouponTestFactory(coupon=factories.CouponFactory(mix=mix))
    return factories.PropellerFactory(blank=blank)


def gauge_for(unit):
    gauge = factories.GaugeFactory(
        unit=unit, range_low=-200_000, range_high=200_000, resolution="0.001"
    )
    factories.CalibrationFactory(gauge=gauge)
    return gauge


def good_answer(slot, state):
    """Give an answer inside whatever limit applies."""
    characteristic = slot.characteristic
    if characteristic.kind != characteristic.Kind.MEASURED:
        return (
            "yes"
            if characteristic.kind == characteristic.Kind.YES_NO
            else "as it should be"
        ), ""
    if characteristic.nominal:
        column = {"angle": "angle_deg"}.get(
            characteristic.nominal, f"{characteristic.nominal}_mm"
        )
        return str(getattr(slot.station, column)), characteristic.unit
    if characteristic.computed:
        return "18.3", "MPa"  # 4 rams of 75 mm on 0.27 m2: 1.2 MPa at the glue line
    limit = Limit.objects.filter(characteristic=characteristic).first()
    if limit is None:
        return str(characteristic.plausible_high or 10), characteristic.unit
    sides = [side for side in (limit.low, limit.high) if side is not None]
    return str(sum(sides) / len(sides)), characteristic.unit


def log_all_of(state, act):
    """Log every reading that a stage still asks for, thing by thing."""
    gauges = {}
    drafts = defaultdict(list)
    for slot in open_slots(state):
        if slot.characteristic.is_range:
            continue
        entered, unit = good_answer(slot, state)
        needed = slot.characteristic.gauge_needed
        if needed and unit not in gauges:
            gauges[unit] = gauge_for(unit)
        draft = Draft(
            subject=slot.thing,
            characteristic=slot.characteristic,
            entered=entered,
            unit=unit,
            gauge=gauges[unit] if needed else None,
            blade=slot.blade,
            station=slot.station,
            joint=slot.joint,
            happened_at=act.at - HOUR,
        )
        drafts[slot.thing] += [draft] * slot.left
    for thing, entries in drafts.items():
        log_grid(act=act, subject=thing, entries=entries)


def test_a_build_by_the_default_route_comes_to_its_end(propeller, act, route):
    blank = propeller.blank
    lamination = blank.laminations.first()
    boards = [x.board for x in blank.laminations.select_related("board__lot")]
    signer = factories.owner(name="Second Person")
    signing = dataclasses.replace(act, by=signer)
    for thing in (lamination.board.lot, *boards, blank, propeller):
        while (state := next_stage(progress_of(thing, route), thing)) is not None:
            log_all_of(state, act)
            findings = missing_for_stage(thing, state.stage)
            assert sentences(findings) == []
            sign_stage(
                act=signing,
                subject=thing,
                stage=state.stage,
                meaning="Inspected, as required",
                check_kind="independent",
                method="password",
                happened_at=act.at,
            )
    states = progress_of(propeller).states
    assert all(state.signed for state in states)
    assert len(states) == 1 + 6 * 2 + 6 + 9  # lot, boards, blank, propeller
    assert not Reading.objects.exclude(verdict__in=["inside", "no_limit"]).exists()


def test_the_next_to_log_is_the_first_that_is_missing(propeller):
    state = next_stage(progress_of(propeller.blank), propeller.blank)
    assert state.stage.code == "saw"
    assert next_to_log(state).characteristic.code == "mass"


def test_nothing_read_and_nothing_signed_is_all_said_at_once(propeller):
    stage = Stage.objects.get(code="final-balance")
    findings = sentences(missing_for_stage(propeller, stage))
    hold_points = [s for s in findings if s.startswith("Hold point")]
    assert len(hold_points) == 1 + 1 + 3 + 5  # lot, boards, blank, propeller
    boards = next(s for s in hold_points if "Board inspection" in s)
    assert boards.endswith("and 3 more is not signed yet.")
    assert "Unbalance, blades level is missing." in findings
    assert "Tip against the pointer: 2 readings missing (blade 1, blade 2)." in findings
    assert "Track is not computed yet: its readings are not all taken." in findings


def test_stations_are_counted_and_a_few_named(propeller):
    stage = Stage.objects.get(code="finish-shape")
    findings = sentences(missing_for_stage(propeller, stage))
    assert (
        "Blade angle: 8 readings missing (blade 1 at 258\xa0mm, blade 2 at 258\xa0mm, "
        "blade 1 at 430\xa0mm, …)."
    ) in findings


def test_readings_of_laminations_and_loads_roll_up_to_the_blank(propeller):
    blank = propeller.blank
    stages = sentences(missing_for_stage(blank, Stage.objects.get(code="dry-stack")))
    number = blank.laminations.first().number
    assert any(f"lamination {number}" in s for s in stages)
    stages = sentences(missing_for_stage(blank, Stage.objects.get(code="press")))
    load = blank.loaded.get().load
    assert f"Press gauge, fully on is missing (press load {load})." in stages
    assert any(
        s.startswith("Beads of glue all along: 5 readings missing") for s in stages
    )


def test_a_stage_of_another_scope_is_no_stage_of_the_thing(propeller):
    [findings] = missing_for_stage(propeller, Stage.objects.get(code="press"))
    assert "no stage of propeller" in findings.sentence


# One stage, looked at closely


@pytest.fixture
def stage(shop):
    blank = factories.BlankFactory()
    return factories.StageFactory(revision=blank.route, name="Shape")


@pytest.fixture
def mine(stage):
    blank = stage.revision.blanks.get()
    return factories.PropellerFactory(blank=blank)


@pytest.fixture
def characteristic(stage):
    return factories.CharacteristicFactory(stage=stage, name="Surplus")


def outside(characteristic, propeller, **kwargs):
    return factories.ReadingFactory(
        characteristic=characteristic,
        propeller=propeller,
        entered="3.0",
        high=2,
        judged_unit="mm",
        verdict=kwargs.pop("verdict", "outside"),
        **kwargs,
    )


def found_for(propeller):
    progress = progress_of(propeller)
    [state] = progress.of(propeller)
    return sentences(missing(progress, state))


def test_a_reading_that_is_not_required_is_not_missed(stage, mine):
    factories.CharacteristicFactory(stage=stage, required=False)
    assert found_for(mine) == []


def test_as_many_readings_as_asked_for(stage, mine):
    characteristic = factories.CharacteristicFactory(
        stage=stage, name="Hub", at_least=4
    )
    for _ in range(3):
        factories.ReadingFactory(characteristic=characteristic, propeller=mine)
    assert found_for(mine) == ["Hub is missing."]
    factories.ReadingFactory(characteristic=characteristic, propeller=mine)
    assert found_for(mine) == []


@pytest.mark.parametrize("verdict", ["outside", "undecided"])
def test_what_is_not_inside_is_named_with_its_limit(characteristic, mine, verdict):
    outside(characteristic, mine, verdict=verdict)
    [sentence] = found_for(mine)
    assert sentence.startswith(
        f"Surplus: 3.0\xa0mm (0.118\xa0in) is {verdict} (at most 2\xa0mm"
    )


def test_a_good_repeat_does_not_hide_a_bad_reading(characteristic, mine):
    outside(characteristic, mine)
    factories.ReadingFactory(characteristic=characteristic, propeller=mine)
    assert len(found_for(mine)) == 1


def test_no_limit_is_good_enough(characteristic, mine):
    factories.ReadingFactory(
        characteristic=characteristic, propeller=mine, verdict="no_limit"
    )
    assert found_for(mine) == []


def disposition(reading, kind, state="closed", **kwargs):
    deviation = factories.DeviationFactory(state=state)
    subject = factories.DeviationSubjectFactory(
        deviation=deviation, propeller=reading.propeller, reading=reading
    )
    agreed = {"design_authority": "Design office", "plain_words": "A little thicker."}
    row = factories.DispositionFactory(
        deviation=deviation, kind=kind, **agreed, **kwargs
    )
    factories.DisposedSubjectFactory(disposition=row, subject=subject)
    return row


@pytest.mark.parametrize("kind", ["use_as_is", "repair"])
def test_a_closed_deviation_accepts_what_is_outside(characteristic, mine, kind):
    disposition(outside(characteristic, mine), kind)
    assert found_for(mine) == []


def test_an_open_deviation_accepts_nothing(characteristic, mine):
    disposition(outside(characteristic, mine), "use_as_is", state="open")
    assert len(found_for(mine)) == 1


def test_a_deviation_about_another_reading_accepts_nothing(characteristic, mine):
    disposition(outside(characteristic, mine), "use_as_is")
    outside(characteristic, mine)
    assert len(found_for(mine)) == 1


def test_rework_repeats_its_stages(characteristic, mine, stage):
    row = disposition(
        outside(characteristic, mine), "rework", happened_at=factories.NOON + HOUR
    )
    StageToRepeatFactory(disposition=row, stage=stage)
    [sentence] = found_for(mine)
    assert sentence == (
        "Surplus has to be read again: deviation "
        f"{row.deviation.number} asks to repeat Shape."
    )
    factories.ReadingFactory(
        characteristic=characteristic,
        propeller=mine,
        happened_at=factories.NOON + 2 * HOUR,
    )
    assert found_for(mine) == []


def test_queries_do_not_grow_with_the_build(propeller):
    stage = Stage.objects.get(code="dry-stack")

    def work(readings):
        for lamination in propeller.blank.laminations.all():
            characteristic = stage.characteristics.get(code="moisture")
            for _ in range(readings):
                factories.ReadingFactory(
                    characteristic=characteristic, propeller=None, lamination=lamination
                )

    work(1)
    few = _queries(lambda: progress_of(propeller))
    work(3)
    assert _queries(lambda: progress_of(propeller)) == few
    assert few <= 25


def _queries(call):
    with CaptureQueriesContext(connection) as context:
        call()
    return len(context)


def test_a_scrapped_thing_has_still_its_stages(mine, characteristic):
    mine.state = Propeller.State.SCRAPPED
    mine.save(update_fields=["state"])
    assert found_for(mine) == ["Surplus is missing."]
