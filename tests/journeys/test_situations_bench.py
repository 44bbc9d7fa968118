"""Situations with readings, gauges and checks (trade notes 5, 9, 14, 15, 19)."""

from dataclasses import replace
from decimal import Decimal

import pytest

from records.management.demo.drawings import PUSHER
from records.management.demo.workshop import INSPECTOR, KEEPER
from records.models import Characteristic, Press, Reading
from records.queries.gauges.impact import impact_of
from records.rules.gates.release import release_findings
from records.services import designs, gauges, routes
from records.services.builds import propellers as builds
from records.services.deviations.gauges import open_gauge_deviation
from records.services.pressing import loads as pressing
from records.services.pressing import samples as press_samples
from records.services.readings import log as readings
from records.services.refusal import Refusal
from tests.journeys.told import DAY, SMALL, held, verdicts


def checked(told, number, *, error):
    """Have a gauge calibrated, and found with an error."""
    gauge = told.workshop.gauges[number]
    return gauges.calibrate_gauge(
        act=told.act(KEEPER),
        gauge=gauge,
        done_on=told.workshop.today,
        unit=gauge.unit,
        as_found_error=Decimal(error),
        as_left_error=Decimal(0),
        permissible_error=Decimal("0.05"),
        expanded_uncertainty=Decimal("0.02"),
        certificate="Sine bar, in the shop",
        standard="Gauge blocks, certificate of last year",
    )


def test_situation_05_a_gauge_found_out_puts_what_it_read_in_doubt(told):
    gone = told.released(told.glued())
    told.delivered(gone)
    here = told.carved(told.glued(), "finish-shape")
    before = verdicts(gone, "finish-shape")
    calibration = checked(told, "G05", error="0.90")

    # Every angle since the last good look is judged again, by the limit of its day.
    impact = impact_of(calibration)
    angles = Reading.objects.filter(characteristic__code="angle")
    assert {line.reading for line in impact.lines} == set(angles)
    assert {line.effect for line in impact.lines} == {"would fail"}
    assert [(d.serial, d.in_shop) for d in impact.serials] == [
        (gone.serial, False),
        (here.serial, True),
    ]

    act = told.act(INSPECTOR)
    deviation = open_gauge_deviation(
        act=act, calibration=calibration, happened_at=act.at
    )
    assert verdicts(gone, "finish-shape") == before
    assert set(before) <= {"inside", "no_limit"}
    assert held(here) == [here.serial]
    assert f"Delivered, to be reviewed: {gone.serial}." in deviation.found
    reviewed = {str(s.subject) for s in deviation.subjects.all() if s.reading}
    assert reviewed == {gone.serial, here.serial}


def test_situation_09_wood_taken_off_after_balance_makes_it_stale(told):
    propeller = told.carved(told.glued(), "first-balance")
    assert told.missing(propeller, "first-balance") == []
    act = told.act()
    builds.change_material(
        act=act,
        propeller=propeller,
        what="removed",
        place="blade 1, leading edge",
        reason="A dent was dressed out.",
        happened_at=act.at,
    )

    # Shape and balance are to be read again; the hub was not touched.
    again = "material removed afterwards (blade 1, leading edge)."
    for code in ("finish-shape", "first-balance"):
        findings = told.missing(propeller, code)
        assert findings
        assert all(
            sentence.endswith(again) for sentence in findings if "again" in sentence
        )
        assert told.bench.state(propeller, code).signed is None
    assert told.missing(propeller, "hub") == []
    with pytest.raises(Refusal, match="has to be read again"):
        told.bench.sign(propeller, "first-balance")

    told.tell(told.propellers.made(propeller, "finish-shape", "first-balance"))
    assert told.missing(propeller, "first-balance") == []
    taken = Reading.objects.filter(propeller=propeller, characteristic__code="vertical")
    assert taken.count() == 2


def test_situation_14_one_person_makes_and_inspects_and_it_is_called_that(told):
    propeller = told.propellers.start(told.glued())
    stage = told.bench.state(propeller, "rough-shape").stage
    told.bench.read_stage(propeller, "rough-shape")

    def signed(kind, who="bram"):
        told.bench.sign(propeller, "rough-shape", who=who, kind=kind)

    with pytest.raises(Refusal, match="so this is no check by an independent person"):
        signed("independent")
    with pytest.raises(Refusal, match=r"the shop waits 12\sh before the same person"):
        signed("later")
    told.wait(DAY)
    signed("later")

    # Somebody else may look later still; both looks stay as what they were.
    told.wait(DAY)
    signed("independent", who=INSPECTOR)
    kinds = stage.signoffs.filter(propeller=propeller).order_by("happened_at")
    assert [(s.printed_name, s.check_kind) for s in kinds] == [
        ("Bram Oakes", "later"),
        ("Maud Ferris", "independent"),
    ]


def test_situation_15_a_slipped_decimal_or_unit_is_caught_and_a_correction_keeps_it(
    told,
):
    [board, *_] = told.boards("ash")
    with pytest.raises(Refusal) as refused:
        told.read(board, "conditioning", "moisture", "103")
    assert "Check the decimal point and the unit." in str(refused.value)
    with pytest.raises(Refusal, match="is a unit of"):
        told.read(board, "conditioning", "moisture", "10.3", unit="mm")
    assert not Reading.objects.filter(characteristic__stage__code="conditioning")

    # A slip that could be true is corrected by a later row; the old one stays.
    slip = told.read(board, "conditioning", "moisture", "13.0", point="1")
    assert slip.verdict == "outside"
    right = readings.correct_reading(
        act=told.act(), reading=slip, entered="10.3", reason="Read 10.3, typed 13.0"
    )
    slip.refresh_from_db()
    assert (slip.entered, slip.verdict) == ("13.0", "outside")
    assert (right.entered, right.verdict, right.corrects) == ("10.3", "inside", slip)


def test_situation_15_a_torque_in_the_wrong_unit_shows_at_the_glue_line(told):
    """24 lbf.ft on each screw is a pressing; 24 lbf.in is none."""
    screws = pressing.add_press(
        act=told.act(KEEPER),
        name="Screw bench",
        kind=Press.Kind.SCREWS,
        rams=20,
        bore_mm=Decimal(20),
        nut_factor=Decimal("0.2"),
    )
    act = told.act()
    load = pressing.load_press(
        act=act, press=screws, blanks=[told.glued_wet()], on_at=act.at
    )

    def shown(unit):
        act = told.act()
        return press_samples.add_sample(
            act=act, load=load, at=act.at, entered="24", unit=unit
        )

    with pytest.raises(Refusal, match="MPa is a unit of pressure"):
        shown("MPa")
    right, wrong = shown("lbf.ft"), shown("lbf.in")
    assert (wrong.entered, wrong.unit) == ("24", "lbf.in")
    assert right.glue_line_pa == pytest.approx(12 * wrong.glue_line_pa)
    assert held(load) == [load.number]
    corrected = press_samples.correct_sample(
        act=told.act(),
        sample=wrong,
        entered="24",
        unit="lbf.ft",
        reason="The wrench reads foot pounds",
    )
    assert corrected.glue_line_pa == right.glue_line_pa
    assert corrected.corrects == wrong


def test_situation_19_limit_and_drawing_changed_between_two_builds(told):
    first = told.carved(told.glued(), "first-balance")
    old = Reading.objects.get(propeller=first, characteristic__code="horizontal")
    characteristic = Characteristic.objects.get(
        stage__revision=told.workshop.route,
        stage__code="first-balance",
        code="horizontal",
    )
    routes.set_limit(
        act=told.act(KEEPER),
        characteristic=characteristic,
        low=Decimal(-300),
        high=Decimal(300),
        source_kind="shop",
        source="Shop's practice since the new stand",
        reason="The new stand shows 50 g.mm",
    )
    drawing = replace(PUSHER, figures=PUSHER.figures | {"number": "B"})
    told.workshop.designs[SMALL] = designs.issue_revision(
        act=told.act(KEEPER),
        design=first.revision.design,
        stations=drawing.stations(),
        species=[told.workshop.woods["ash"]],
        **drawing.figures,
    )
    second = told.carved(told.glued(), "finish-shape")
    new = told.read(second, "first-balance", "horizontal", old.entered)

    # The same figure, each judged by what was in force on its day.
    old.refresh_from_db()
    assert (old.low, old.high, old.verdict) == (-2000, 2000, "inside")
    assert (new.low, new.high, new.verdict) == (-300, 300, "outside")
    assert (str(first.revision), str(second.revision)) == ("revision A", "revision B")
    reason = " ".join(f.sentence for f in release_findings(first))
    assert "revision B is newer. The record will say so." in reason
    assert "2000 g.mm" not in reason
    assert verdicts(first, "first-balance") == ["inside", "inside"]
