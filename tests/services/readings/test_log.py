"""Readings are judged once, kept as entered, and refused with every reason."""

import dataclasses
import datetime as dt
from decimal import Decimal

import pytest

from records.models import Attachment, LedgerEntry, Reading, Shop
from records.rules.readings.draft import Draft
from records.services.ledger import Act
from records.services.readings.log import (
    correct_reading,
    log_grid,
    log_reading,
    withdraw_reading,
)
from records.services.refusal import Refusal
from tests import factories
from tests.rules.test_files import picture

pytestmark = pytest.mark.django_db
Verdict = Reading.Verdict


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory()


@pytest.fixture
def stage(propeller):
    return factories.StageFactory(
        revision=propeller.blank.route, name="Balance", code="balance"
    )


@pytest.fixture
def track(stage):
    characteristic = factories.CharacteristicFactory(
        stage=stage, name="Track", code="track"
    )
    factories.LimitFactory(characteristic=characteristic, high="1.5")
    return characteristic


@pytest.fixture
def log(act, propeller, track, noon):
    """Log a reading of track unless told otherwise."""

    def call(**changes):
        facts = {
            "subject": propeller,
            "characteristic": track,
            "entered": "1.0",
            "unit": "mm",
            "happened_at": noon,
        }
        return log_reading(act=act, **{**facts, **changes})

    return call


def sentences(refused):
    return [f.sentence for f in refused.value.findings]


def fields(refused):
    return [f.field for f in refused.value.findings]


def refused(log, **changes):
    before = Reading.objects.count(), LedgerEntry.objects.count()
    with pytest.raises(Refusal) as refused:
        log(**changes)
    assert (Reading.objects.count(), LedgerEntry.objects.count()) == before
    return refused


def test_what_was_typed_is_kept_digit_for_digit_with_limit_and_verdict(log):
    reading = Reading.objects.get(pk=log(entered=" 1,50 ").pk)
    assert reading.entered == "1,50"
    assert reading.verdict == Verdict.INSIDE  # JCGM 106, 8.2: on the limit is inside
    assert (reading.low, reading.high, reading.judged_unit) == (None, 1.5, "mm")
    assert (
        reading.limit_source == "shop's practice: common practice, no source (limit 1)"
    )
    assert reading.rule == Shop.DecisionRule.SIMPLE
    assert reading.value_si == pytest.approx(0.0015)


@pytest.mark.parametrize(
    ("entered", "unit", "verdict"),
    [
        ("1.5", "mm", Verdict.INSIDE),
        ("1.5001", "mm", Verdict.OUTSIDE),
        # 1 in is 25.4 mm exactly (NIST SP 811, Appendix B): 0.059 in is 1.4986 mm.
        ("0.059", "in", Verdict.INSIDE),
        ("0.0591", "in", Verdict.OUTSIDE),
        ("1/16", "in", Verdict.OUTSIDE),  # 1.5875 mm
    ],
)
def test_a_reading_is_judged_exactly_in_the_limits_unit(log, entered, unit, verdict):
    assert log(entered=entered, unit=unit).verdict == verdict


def test_without_a_limit_there_is_no_verdict_but_that(log, stage):
    other = factories.CharacteristicFactory(stage=stage)
    reading = log(characteristic=other)
    assert reading.verdict == Verdict.NO_LIMIT
    assert reading.limit_source == ""


@pytest.mark.parametrize(
    ("answer", "kept", "verdict"),
    [("yes", "yes", "inside"), ("Y", "yes", "inside"), ("No", "no", "outside")],
)
def test_yes_is_inside_and_no_is_outside(log, stage, answer, kept, verdict):
    characteristic = factories.CharacteristicFactory(
        stage=stage, kind="yes_no", unit=""
    )
    reading = log(characteristic=characteristic, entered=answer, unit="")
    assert (reading.entered, reading.verdict) == (kept, verdict)


def test_words_have_no_limit(log, stage):
    characteristic = factories.CharacteristicFactory(stage=stage, kind="note", unit="")
    reading = log(characteristic=characteristic, entered="Smooth, one run", unit="")
    assert reading.verdict == Verdict.NO_LIMIT


@pytest.mark.parametrize(
    ("changes", "field", "part"),
    [
        ({"entered": "ten"}, "entered", "not a number"),
        ({"entered": ""}, "entered", "nothing was entered"),
        ({"unit": ""}, "unit", "Choose the unit: m, mm"),
        ({"unit": "psi"}, "unit", "psi is a unit of pressure, but Track is read in"),
        ({"unit": "furlong"}, "unit", "not known here"),
        ({"blade": 1}, "blade", "not read by blade"),
        ({"joint": 1}, "joint", "not read by joint"),
        (
            {"happened_at": dt.datetime(2100, 1, 1, tzinfo=dt.UTC)},
            "happened_at",
            "still to come",
        ),
    ],
)
def test_bad_input_is_refused_at_its_field(log, changes, field, part):
    findings = refused(log, **changes)
    assert field in fields(findings)
    assert any(part.lower() in s.lower() for s in sentences(findings))


def test_every_reason_comes_at_once(log):
    result = refused(log, entered="ten", unit="psi", blade=3)
    assert {"entered", "unit", "blade"} <= set(fields(result))


def test_moisture_of_103_percent_is_a_slip_of_the_pen(log, act, noon):
    stage = factories.StageFactory(scope="board")
    characteristic = factories.CharacteristicFactory(
        stage=stage, on="board", name="Moisture content", unit="%", plausible_high=40
    )
    board = factories.BoardFactory()
    findings = refused(
        log, subject=board, characteristic=characteristic, entered="103", unit="%"
    )
    [sentence] = sentences(findings)
    assert sentence.startswith("103 % is more than 40 %")
    assert log(subject=board, characteristic=characteristic, entered="40", unit="%")


def test_a_mass_is_never_negative(log, stage):
    characteristic = factories.CharacteristicFactory(stage=stage, unit="g")
    findings = refused(log, characteristic=characteristic, entered="-1", unit="g")
    assert sentences(findings) == ["-1 g: a mass can't be negative."]


def test_a_length_may_be_negative(log):
    assert log(entered="-0.4").verdict == Verdict.INSIDE


def test_the_wrong_kind_of_thing_is_refused(log, propeller):
    findings = refused(log, subject=propeller.blank)
    assert (
        f"Track is read on a propeller, not on blank {propeller.blank}."
        in sentences(findings)
    )


def test_a_stage_of_another_route_is_refused(log):
    other = factories.CharacteristicFactory()
    findings = refused(log, characteristic=other)
    assert any("belongs to" in s for s in sentences(findings))


def test_a_scrapped_propeller_is_not_read(log, propeller):
    propeller.state = propeller.State.SCRAPPED
    propeller.save(update_fields=["state"])
    assert any("scrapped" in s for s in sentences(refused(log)))


def test_blades_stations_and_joints_are_those_of_the_design(log, stage, propeller):
    angle = factories.CharacteristicFactory(
        stage=stage, name="Angle", per="station", unit="deg", nominal="angle"
    )
    mine = propeller.revision.stations.first()
    other = factories.RevisionFactory().stations.first()
    assert fields(refused(log, characteristic=angle, unit="deg")) == [
        "blade",
        "station",
    ]
    findings = refused(log, characteristic=angle, unit="deg", blade=3, station=mine)
    assert sentences(findings) == ["This design has blades 1 to 2; there is no 3."]
    findings = refused(log, characteristic=angle, unit="deg", blade=2, station=other)
    assert "is of another design" in sentences(findings)[0]


def test_a_joint_lies_in_the_stack(log, propeller, act, noon):
    stage = factories.StageFactory(revision=propeller.blank.route, scope="blank")
    gap = factories.CharacteristicFactory(stage=stage, on="blank", per="joint")
    blank = propeller.blank
    assert log(subject=blank, characteristic=gap, joint=5)
    findings = refused(log, subject=blank, characteristic=gap, joint=6)
    assert sentences(findings) == ["This stack has joints 1 to 5; there is no 6."]
    assert refused(log, subject=blank, characteristic=gap, joint=0)


def test_the_drawing_gives_the_limit_of_a_station(log, stage, propeller):
    angle = factories.CharacteristicFactory(
        stage=stage, per="station", unit="deg", nominal="angle"
    )
    station = propeller.revision.stations.get(radius_mm=645)  # 16.49 deg +- 0.5
    reading = log(
        characteristic=angle, entered="16.99", unit="deg", blade=1, station=station
    )
    assert (reading.low, reading.high) == (Decimal("15.990"), Decimal("16.990"))
    assert reading.verdict == Verdict.INSIDE
    assert reading.limit_source == "drawing, station at 645 mm"
    beyond = log(
        characteristic=angle, entered="16.991", unit="deg", blade=2, station=station
    )
    assert beyond.verdict == Verdict.OUTSIDE


# Gauges


@pytest.fixture
def rule_gauge(db):
    return factories.CalibrationFactory().gauge


def test_the_gauge_gives_its_uncertainty(log, rule_gauge):
    reading = log(gauge=rule_gauge)
    # U 0.02 at k 2 and a step of 0.01, GUM 4.3.7: sqrt(0.01^2 + 0.01^2 / 12)
    assert reading.standard_uncertainty == pytest.approx(0.010408, rel=1e-4)
    assert reading.gauge == rule_gauge


def test_under_the_guarded_rule_a_reading_near_the_limit_is_undecided(
    log, rule_gauge, shop
):
    shop.decision_rule = Shop.DecisionRule.GUARDED
    shop.save()
    # ISO 14253-1, 1.65 standard uncertainties (factor from memory): 0.01717 mm
    assert log(gauge=rule_gauge, entered="1.48").verdict == Verdict.INSIDE
    assert log(gauge=rule_gauge, entered="1.49").verdict == Verdict.UNDECIDED
    assert log(gauge=rule_gauge, entered="1.51").verdict == Verdict.UNDECIDED
    assert log(gauge=rule_gauge, entered="1.52").verdict == Verdict.OUTSIDE
    assert "without an uncertainty" in log().flags


def test_a_gauge_that_is_needed_is_named(log, stage):
    characteristic = factories.CharacteristicFactory(stage=stage, gauge_needed=True)
    assert fields(refused(log, characteristic=characteristic)) == ["gauge"]


def test_a_gauge_reads_its_own_quantity_within_its_range(log, rule_gauge):
    other = factories.CalibrationFactory(gauge=factories.GaugeFactory(unit="psi")).gauge
    assert "reads psi, not mm" in sentences(refused(log, gauge=other))[0]
    assert log(gauge=rule_gauge, entered="2", unit="m")
    findings = refused(log, gauge=rule_gauge, entered="2.001", unit="m")
    assert "0 to 2000 mm" in sentences(findings)[0]


def test_an_overdue_gauge_is_refused_or_flagged_as_the_shop_sets(log, shop):
    gauge = factories.CalibrationFactory(next_due_on=dt.date(2026, 3, 1)).gauge
    assert "was due for calibration" in sentences(refused(log, gauge=gauge))[0]
    shop.overdue_gauge = Shop.OverdueGauge.FLAG
    shop.save()
    assert "was due for calibration" in log(gauge=gauge).flags


def test_a_gauge_is_good_on_the_day_it_is_due(log):
    gauge = factories.CalibrationFactory(next_due_on=dt.date(2026, 3, 2)).gauge
    assert log(gauge=gauge).flags == ""


def test_a_withdrawn_gauge_is_refused(log, rule_gauge):
    rule_gauge.state = rule_gauge.State.WITHDRAWN
    rule_gauge.save(update_fields=["state"])
    assert "withdrawn" in sentences(refused(log, gauge=rule_gauge))[0]


# The press


@pytest.fixture
def load(propeller):
    return factories.LoadedBlankFactory(blank=propeller.blank).load


def test_the_gauge_of_a_press_is_judged_by_the_pressure_at_the_glue_line(
    log, propeller
):
    # Closed form p = P n (pi/4) d2 / A: 1000 psi on 4 rams of 3 in over 72 x 6 in
    # is 65.450 psi at the glue line (check values, tolerance 0.1 %).
    press = factories.PressFactory(rams=4, bore_mm="76.2")
    load = factories.PressLoadFactory(
        press=press,
        glued_area_mm2=Decimal("72") * 6 * Decimal("645.16"),
        pressure_low_pa=450_000,
        pressure_high_pa=460_000,
    )
    factories.LoadedBlankFactory(load=load, blank=propeller.blank)
    stage = factories.StageFactory(
        revision=propeller.blank.route, scope="blank", evidence="press"
    )
    characteristic = factories.CharacteristicFactory(
        stage=stage, on="load", unit="psi", computed="glue_line_pressure"
    )
    reading = log(
        subject=load, characteristic=characteristic, entered="1000", unit="psi"
    )
    assert reading.judged_unit == "Pa"
    assert float(reading.judged) == pytest.approx(65.450 * 6894.757, rel=1e-3)
    assert reading.verdict == Verdict.INSIDE
    assert reading.value_si == pytest.approx(1000 * 6894.757, rel=1e-6)
    assert "maker's sheet" in reading.limit_source
    low = log(subject=load, characteristic=characteristic, entered="980", unit="psi")
    assert low.verdict == Verdict.OUTSIDE


def test_screws_are_read_as_torque(log, propeller):
    press = factories.PressFactory(kind="screws", rams=12, bore_mm=20, nut_factor="0.2")
    load = factories.LoadedBlankFactory(
        load=factories.PressLoadFactory(press=press), blank=propeller.blank
    ).load
    stage = factories.StageFactory(revision=propeller.blank.route, scope="blank")
    characteristic = factories.CharacteristicFactory(
        stage=stage, on="load", unit="psi", computed="glue_line_pressure"
    )
    reading = log(subject=load, characteristic=characteristic, entered="90", unit="N.m")
    # F = T / (K d) = 90 / (0.2 x 0.020) = 22 500 N; 12 F / 0.27 m2 = 1.0 MPa
    assert float(reading.judged) == pytest.approx(1.0e6)
    assert reading.verdict == Verdict.INSIDE
    assert fields(
        refused(
            log, subject=load, characteristic=characteristic, entered="90", unit="psi"
        )
    ) == ["unit"]


# Hold points


def test_an_earlier_hold_point_blocks_until_it_is_signed(log, propeller, track):
    hold = factories.StageFactory(
        revision=propeller.blank.route, order=0, hold_point=True, name="Shape"
    )
    findings = refused(log)
    assert (
        f"Hold point Shape of propeller {propeller} is not signed yet"
        in (sentences(findings)[0])
    )
    assert hold.order < track.stage.order


def test_while_glue_is_wet_a_hold_point_only_warns(log, propeller):
    route = propeller.blank.route
    factories.StageFactory(
        revision=route, order=0, hold_point=True, scope="blank", name="Dry stack"
    )
    glue_up = factories.StageFactory(revision=route, scope="blank", evidence="joints")
    characteristic = factories.CharacteristicFactory(stage=glue_up, on="blank")
    reading = log(subject=propeller.blank, characteristic=characteristic)
    assert "Hold point Dry stack" in reading.flags


# Corrections


def test_a_correction_is_a_new_row_judged_by_the_limit_of_the_old(log, act, track):
    old = log(entered="15")
    factories.LimitFactory(
        characteristic=track, number=2, high="0.5", in_force_from=factories.NOON
    )
    new = correct_reading(act=act, reading=old, entered="1.5", reason="Point left out")
    old.refresh_from_db()
    assert (old.entered, old.verdict) == ("15", Verdict.OUTSIDE)
    assert (new.entered, new.verdict, new.high) == ("1.5", Verdict.INSIDE, old.high)
    assert new.corrects == old
    assert list(Reading.objects.standing()) == [new]


def test_a_correction_says_why_and_is_made_once(log, act):
    old = log()
    with pytest.raises(Refusal) as findings:
        correct_reading(act=act, reading=old, entered="x", reason=" ")
    assert {"reason", "entered"} <= set(fields(findings))
    correct_reading(act=act, reading=old, entered="1.1", reason="Slip")
    with pytest.raises(Refusal) as findings:
        correct_reading(act=act, reading=old, entered="1.2", reason="Slip")
    assert "take the newest" in sentences(findings)[0]


def test_a_reading_of_the_wrong_thing_is_withdrawn_and_stays_readable(log, act):
    old = log()
    row = withdraw_reading(act=act, reading=old, reason="Was the other propeller")
    assert row.corrects == old
    assert row.reason == "Was the other propeller"
    assert not Reading.objects.standing().exists()
    with pytest.raises(Refusal):
        withdraw_reading(act=act, reading=row, reason="Again")


class AsSent:
    name, data = "tip.jpg", picture()


def test_a_photo_is_written_with_its_reading_or_not_at_all(log):
    reading = log(photo=AsSent())
    assert [p.caption for p in reading.photos.all()] == ["Track: 1.0"]
    assert LedgerEntry.objects.count() == 1
    with pytest.raises(Refusal):
        log(photo=AsSent(), entered="much")
    assert Attachment.objects.count() == 1


# Grid


def draft(**changes):
    facts = {"entered": "1.0", "unit": "mm", "happened_at": factories.NOON}
    return Draft(subject=None, **{**facts, **changes})


def test_a_grid_is_written_whole_or_not_at_all(act, propeller, track):
    good, bad = draft(characteristic=track), draft(characteristic=track, entered="?")
    with pytest.raises(Refusal) as result:
        log_grid(act=act, subject=propeller, entries=[good, bad])
    assert fields(result) == ["entered-1"]
    assert not Reading.objects.exists()
    readings = log_grid(act=act, subject=propeller, entries=[good, good])
    assert [r.verdict for r in readings] == ["inside", "inside"]
    assert LedgerEntry.objects.count() == 1


def test_a_grid_needs_no_more_queries_for_more_rows(
    act, propeller, track, django_assert_max_num_queries
):
    def count(rows):
        entries = [draft(characteristic=track, point=str(n)) for n in range(rows)]
        with django_assert_max_num_queries(200) as context:
            log_grid(act=act, subject=propeller, entries=entries)
        return len(context.captured_queries)

    count(1)  # with the first reading, what it names is read as well
    assert count(3) == count(30)


# Differences


@pytest.fixture
def tips(stage):
    position = factories.CharacteristicFactory(
        stage=stage, per="blade", code="tip", name="Tip position"
    )
    spread = factories.CharacteristicFactory(
        stage=stage,
        code="tip-track",
        name="Track of the tips",
        computed="range_of_blades",
        compares="tip",
    )
    factories.LimitFactory(characteristic=spread, high="1.5")
    return position, spread


def test_track_is_computed_once_every_blade_is_read(log, tips):
    # Track is highest less lowest (AC 43.13-1B, 8-74): tips 0.0 and 1.2 give 1.2 mm.
    position, spread = tips
    log(characteristic=position, entered="0.0", blade=1)
    assert not Reading.objects.filter(characteristic=spread).exists()
    log(characteristic=position, entered="1.2", blade=2)
    track = Reading.objects.get(characteristic=spread)
    assert (track.entered, track.unit, track.verdict) == ("1.2", "mm", Verdict.INSIDE)
    assert track.high == Decimal("1.5")


def test_a_corrected_blade_corrects_the_track(log, act, tips):
    position, spread = tips
    first = log(characteristic=position, entered="0.0", blade=1)
    log(characteristic=position, entered="2.2", blade=2)
    old = Reading.objects.get(characteristic=spread)
    assert old.verdict == Verdict.OUTSIDE
    correct_reading(act=act, reading=first, entered="1.0", reason="Misread")
    new = Reading.objects.standing().get(characteristic=spread)
    assert (new.entered, new.verdict, new.corrects) == ("1.2", Verdict.INSIDE, old)


def test_reading_again_never_hides_a_difference(log, tips):
    position, spread = tips
    log(characteristic=position, entered="0.0", blade=1)
    log(characteristic=position, entered="2.2", blade=2)
    log(characteristic=position, entered="0.1", blade=2)
    assert Reading.objects.standing().get(characteristic=spread).entered == "2.2"


def test_a_withdrawn_blade_takes_the_track_with_it(log, act, tips):
    position, spread = tips
    first = log(characteristic=position, entered="0.0", blade=1)
    log(characteristic=position, entered="1.2", blade=2)
    withdraw_reading(act=act, reading=first, reason="Other propeller")
    assert not Reading.objects.standing().filter(characteristic=spread).exists()


def test_a_difference_is_never_typed(log, tips):
    _, spread = tips
    assert "is computed" in sentences(refused(log, characteristic=spread))[0]


def test_a_form_counts_once(log, act, propeller, track, noon):
    once = dataclasses.replace(act, form_key="k1")
    assert isinstance(once, Act)
    log_reading(
        act=once,
        subject=propeller,
        characteristic=track,
        entered="1",
        unit="mm",
        happened_at=noon,
    )
    assert LedgerEntry.objects.get().form_key == "k1"
