"""Release is refused with every reason at once, and only while a reason stands.

What a release asks for: 14 CFR 21.137(e), (g), (h) and (o) as read in
rules-and-standards.md section 1; AC 43.13-1B 1-29h for the coupon.
"""

import datetime as dt
from dataclasses import replace

import pytest

from records.models import CouponTest, Propeller, ServiceEvent
from records.rules.gates.release import release_findings, release_reasons
from records.services.builds.propellers import change_material
from records.services.readings.log import log_reading
from tests import factories, finished

pytestmark = pytest.mark.django_db
HOUR = dt.timedelta(hours=1)
built, made = finished.built, finished.made


def sentences(propeller):
    return [f.sentence for f in release_findings(propeller)]


def read(made, stage, code, entered, **more):
    route = made.propeller.blank.route
    characteristic = route.stages.get(code=stage).characteristics.get(code=code)
    gauge = factories.m.Gauge.objects.filter(unit=characteristic.unit).first()
    return log_reading(
        act=made.act,
        subject=made.propeller,
        characteristic=characteristic,
        entered=entered,
        unit=characteristic.unit,
        happened_at=made.act.at - HOUR,
        gauge=gauge if characteristic.gauge_needed else None,
        **more,
    )


def test_nothing_speaks_against_a_propeller_with_everything_done(made):
    assert sentences(made.propeller) == []


def test_a_propeller_with_nothing_done_names_every_stage(made):
    bare = factories.PropellerFactory(blank=made.propeller.blank, serial="2026-002")
    findings = sentences(bare)
    route = bare.blank.route
    for stage in route.stages.filter(scope="propeller"):
        assert f"{stage.name} of propeller 2026-002 is not signed." in findings
    assert len(findings) == len(set(findings))
    assert (
        "Final balance and track: Track is not computed yet: its readings are not all "
        "taken." in findings
    )


def test_material_removed_after_balance_makes_readings_stale_and_signatures_void(made):
    change_material(
        act=made.act,
        propeller=made.propeller,
        what="removed",
        place="tip of blade 2",
        reason="a dent sanded out",
        happened_at=made.act.at - HOUR,
    )
    findings = sentences(made.propeller)
    assert any("Track" in s and "material removed afterwards" in s for s in findings)
    void = "The signature of Final balance and track of propeller 2026-001 is void"
    assert any(s.startswith(void) for s in findings)


def test_a_reading_outside_is_named_with_its_limit(made):
    read(made, "final-balance", "horizontal", "2600")
    findings = sentences(made.propeller)
    assert any(
        "2600\xa0g·mm (3.61\xa0oz·in) is outside" in s and "2000\xa0g·mm" in s
        for s in findings
    )


def test_a_gauge_overdue_when_it_was_read_is_named(shop):
    shop.overdue_gauge = "flag"
    shop.save()
    made = finished.make(serial="2026-007", due_on=dt.date(2026, 3, 1))
    findings = sentences(made.propeller)
    stand = [s for s in findings if s.startswith("Unbalance, blades level")]
    assert len(stand) == 2
    assert "was due for calibration on 1 Mar 2026" in stand[0]


def test_a_hold_on_a_glue_lot_reaches_the_release(made):
    mix = made.propeller.blank.spreads.first().mix
    factories.HoldFactory(lot=mix.resin_lot, reason="tin was frozen")
    (sentence,) = sentences(made.propeller)
    assert f"Lot {mix.resin_lot}" in sentence
    assert "tin was frozen" in sentence


def test_an_open_deviation_on_a_board_is_named_without_any_hold(made):
    board = made.propeller.blank.laminations.first().board
    deviation = factories.DeviationFactory(number="D0009", title="Shake at the end")
    factories.DeviationSubjectFactory(deviation=deviation, board=board)
    assert sentences(made.propeller) == ["Deviation D0009 is open: Shake at the end."]


def test_a_failed_coupon_is_named(made):
    coupon = factories.m.Coupon.objects.first()
    CouponTest.objects.create(
        coupon=coupon,
        happened_at=factories.NOON,
        method="by hand",
        wood_failure_pct=20,
        least_wood_failure_pct=75,
        verdict="failed",
        written_at=factories.NOON,
        written_by=made.maker,
    )
    assert any(
        f"A coupon of mix {coupon.mix} failed" in s for s in sentences(made.propeller)
    )


def test_a_basis_without_its_reference_is_no_basis(shop):
    made = finished.make(serial="2026-007", basis="certificated")
    (sentence,) = sentences(made.propeller)
    assert "names no type certificate or standard" in sentence


def test_a_wood_that_the_design_does_not_allow_is_named(shop):
    made = finished.make(serial="2026-007", allowed=False)
    (sentence,) = sentences(made.propeller)
    assert "Yellow birch is in blank" in sentence


def test_a_newer_revision_only_warns(made):
    factories.RevisionFactory(design=made.propeller.revision.design, number="B")
    (finding,) = release_findings(made.propeller)
    assert not finding.blocks
    assert "revision B is newer" in finding.sentence


@pytest.mark.parametrize("state", ["released", "delivered", "retired", "scrapped"])
def test_only_what_is_in_the_shop_is_released(made, state):
    Propeller.objects.filter(pk=made.propeller.pk).update(state=state)
    made.propeller.refresh_from_db()
    (sentence,) = sentences(made.propeller)
    assert made.propeller.get_state_display() in sentence


def test_after_a_return_work_and_a_last_look_are_asked_for(made):
    pen = {"written_at": made.act.at + HOUR, "written_by": made.maker}
    Propeller.objects.filter(pk=made.propeller.pk).update(state="returned")
    made.propeller.refresh_from_db()
    ServiceEvent.objects.create(
        propeller=made.propeller,
        kind="returned",
        happened_at=made.act.at,
        findings="Tip split",
        **pen,
    )
    findings = sentences(made.propeller)
    assert any("nothing is recorded of what was done" in s for s in findings)
    assert any("Release was signed before it came back" in s for s in findings)
    ServiceEvent.objects.create(
        propeller=made.propeller,
        kind="work",
        happened_at=made.act.at,
        findings="Tip glued and refinished",
        **(pen | {"written_at": made.act.at + 2 * HOUR}),
    )
    later = replace(made, act=replace(made.act, at=made.act.at + 3 * HOUR))
    read(later, "release", "whole", "yes")
    (sentence,) = sentences(made.propeller)
    assert sentence.startswith("The signature of Release of propeller 2026-001 is void")


def test_each_reason_says_where_it_is_put_right(made):
    bare = factories.PropellerFactory(blank=made.propeller.blank, serial="2026-002")
    reasons = release_reasons(bare)
    assert all(r.stage is not None for r in reasons)
    missing = [r for r in reasons if "missing" in r.finding.sentence]
    assert missing
    assert all(r.slot is not None for r in missing)


def test_the_number_of_queries_does_not_grow_with_the_readings(
    made, django_assert_max_num_queries
):
    with django_assert_max_num_queries(45):
        release_findings(made.propeller)
