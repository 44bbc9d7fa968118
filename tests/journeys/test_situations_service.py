"""Situations after the bench: scrapped, repaired, asked about (7, 17, 18; reserve)."""

import datetime as dt
import json
from dataclasses import replace
from decimal import Decimal

import pytest

from records.management.demo.drawings import PUSHER
from records.management.demo.propellers import drawn_photo
from records.management.demo.workshop import INSPECTOR, KEEPER
from records.models import Disposition, Reading
from records.queries.reach.suspects import (
    Question,
    materials_named,
    serials_like,
    who_is_affected,
)
from records.queries.trace.history import where_to
from records.rules.deviations.opening import Touched
from records.rules.gates.release import release_findings
from records.services import designs, lots
from records.services.builds import propellers as builds
from records.services.builds import uses
from records.services.deviations import dispositions
from records.services.refusal import Refusal
from records.services.service import events as service
from records.web.trace.question import answer_rows
from tests.journeys.told import DAY, made_of, verdicts, written_about


@pytest.fixture(scope="module")
def blank(opened):
    """Give one blank ready to be carved, for all the situations here."""
    return opened.glued()


def happened(told, propeller, kind, findings, **given):
    """Note something in a propeller's service."""
    act = told.act(KEEPER)
    event = service.record_service_event(
        act=act,
        propeller=propeller,
        kind=kind,
        happened_at=act.at,
        findings=findings,
        **given,
    )
    propeller.refresh_from_db()
    return event


def test_situation_07_a_serial_scrapped_before_release_is_retired_for_good(blank, told):
    propeller = told.carved(blank, "hub")
    deviation = told.deviate("Bore drilled off centre", Touched(propeller))
    act = told.act(INSPECTOR)
    decision = {
        "act": act,
        "deviation": deviation,
        "kind": Disposition.Kind.SCRAP,
        "reason": "No approved bush for this hub.",
        "happened_at": act.at,
    }
    with pytest.raises(Refusal, match="Scrap needs a photo"):
        dispositions.dispose(**decision)
    scrap = dispositions.dispose(**decision, photo=drawn_photo("sawn in two"))
    propeller.refresh_from_db()
    assert propeller.state == "scrapped"
    assert scrap.proof.file.media_type == "image/jpeg"

    # Neither this number nor this wood comes back, and both can still be found.
    with pytest.raises(Refusal, match="No serial is ever used twice"):
        builds.start_propeller(act=told.act(), blank=blank, serial=propeller.serial)
    with pytest.raises(Refusal, match="is scrapped: nothing more is read"):
        told.bench.read_stage(propeller, "finish-shape")
    result = made_of(propeller)
    for kind, thing in (("board", result.boards[0]), ("mix", result.mixes[0])):
        places = where_to(kind, thing.pk).propellers
        assert [(p.serial, p.state_name) for p in places] == [
            (propeller.serial, "scrapped")
        ]


def re_pitch(told, propeller):
    """Draw the design with less pitch, and make the propeller that."""
    flat = replace(PUSHER, figures=PUSHER.figures | {"pitch_mm": Decimal(700)})
    flatter = designs.issue_revision(
        act=told.act(KEEPER),
        design=designs.add_design(act=told.act(KEEPER), model="Bittern 52 Flat"),
        stations=flat.stations(),
        species=[told.workshop.woods["ash"]],
        **flat.figures,
    )
    builds.designate(
        act=told.act(),
        propeller=propeller,
        revision=flatter,
        reason="Re-pitched for a slower engine",
        happened_at=told.clock.now,
    )
    propeller.refresh_from_db()


def test_situation_17_back_for_repair_re_pitched_under_the_old_serial(blank, told):
    propeller = told.released(blank)
    told.delivered(propeller)
    built = {r.pk for r in written_about(propeller).readings}
    told.wait(400 * DAY)
    told.recalibrated()
    happened(told, propeller, "returned", "Tip split on stones", hours=Decimal(212))

    # A repair uses glue of its own: the question about that lot finds it.
    mix = told.blanks.mix()
    act = told.act()
    uses.use_material(
        act=act,
        part=propeller,
        material=mix,
        place="scarf at the tip of blade 2",
        happened_at=act.at,
    )
    builds.change_material(
        act=told.act(),
        propeller=propeller,
        what="removed",
        place="both tips",
        reason="Shortened to sound wood",
        happened_at=told.clock.now,
    )
    re_pitch(told, propeller)

    # Shape, balance and marking are to be done again, the old record stands as built.
    reasons = " ".join(f.sentence for f in release_findings(propeller))
    assert "nothing is recorded of what was done" in reasons
    for stage in (
        "Finish shape",
        "First balance",
        "Marking",
        "Final balance and track",
    ):
        assert f"{stage}: " in reasons, stage
    happened(told, propeller, "work", "Tips scarfed, re-pitched, refinished")
    told.redone(propeller)
    told.release(propeller)
    record = told.certified(propeller, reason="Re-pitched in repair")
    assert built <= {r.pk for r in written_about(propeller).readings}
    assert record.issue == 2
    facts = json.loads(record.facts)
    assert "Bittern 52 Flat" in json.dumps(facts)
    assert "Tips scarfed, re-pitched, refinished" in json.dumps(facts)

    marked = Reading.objects.filter(propeller=propeller, characteristic__code="marked")
    assert [m.entered.split(" SM")[0] for m in marked.order_by("pk")] == [
        "Bittern 52",
        "Bittern 52 Flat",
    ]
    findings = who_is_affected(Question(materials=[mix])).included
    assert [place.serial for place in findings] == [propeller.serial]
    assert mix.resin_lot in made_of(propeller).glue_lots


def test_situation_18_which_serials_of_a_glue_lot_or_of_some_days_of_pressing(told):
    old = told.workshop.resin
    before = told.propellers.start(told.glued())
    told.workshop.resin = lot_of(told, old.material, "FB-2290")
    begins = told.clock.now
    after = told.propellers.start(told.glued())
    twin = told.propellers.start(after.blank)

    materials, unknown = materials_named([str(told.workshop.resin), "L9999"])
    assert unknown == ["L9999"]
    answer = who_is_affected(Question(materials=materials))
    assert [p.serial for p in answer.included] == [after.serial, twin.serial]
    assert [p.serial for p in answer.excluded] == [before.serial]

    # Each line says what brought it in; the one left out, what it is made of instead.
    rows = {row["serial"]: row for row in answer_rows(answer, neighbours=None)}
    assert rows[twin.serial]["through"] == f"lot {told.workshop.resin}"
    assert (rows[before.serial]["answer"], rows[before.serial]["through"]) == ("no", "")
    assert (
        f"glue {', '.join(sorted([str(old), str(told.workshop.powder)]))}"
        in (rows[before.serial]["made_of"])
    )

    days = Question(pressed_from=begins.date(), pressed_until=told.workshop.today)
    assert {p.serial for p in who_is_affected(days).included} == {
        after.serial,
        twin.serial,
    }


def lot_of(told, material, supplier_lot):
    """Receive and accept another lot of a glue."""
    act = told.act(INSPECTOR)
    lot = lots.receive_lot(
        act=act,
        material=material,
        supplier=told.workshop.supplier,
        supplier_lot=supplier_lot,
        received_on=told.workshop.today,
        expires_on=told.workshop.today + dt.timedelta(days=365),
    )
    lots.check_lot(
        act=told.act(INSPECTOR),
        lot=lot,
        accepted=True,
        found="Sound.",
        happened_at=told.clock.now,
    )
    lot.refresh_from_db()
    return lot


def test_reserve_transit_damage_was_it_within_track_when_it_left(blank, told):
    propeller = told.released(blank)
    record = told.delivered(propeller).propeller.conformity_records.get()
    told.wait(6 * DAY)
    happened(told, propeller, "report", "Tip crushed in the carton; track 4 mm")

    track = Reading.objects.get(
        propeller=propeller, characteristic__code="track", verdict="inside"
    )
    assert track.happened_at < record.issued_at
    assert track.entered in record.facts
    assert verdicts(propeller, "final-balance").count("outside") == 0


def test_reserve_a_lost_conformity_record_is_issued_again(blank, told):
    propeller = told.released(blank)
    told.delivered(propeller)
    first = propeller.conformity_records.get()
    was = first.pdf.sha256
    with pytest.raises(Refusal, match=f"It replaces {first}. Say why"):
        told.certified(propeller)
    again = told.certified(propeller, reason="Lost with the aircraft's papers")
    first.refresh_from_db()
    assert (again.issue, again.replaces, first.pdf.sha256) == (2, first, was)
    assert "Lost with the aircraft's papers" in again.facts


def test_reserve_a_propeller_found_with_no_marks(blank, told):
    """What was weighed when each left narrows it down; it proves nothing."""
    several = [told.carved(blank, "final-balance") for _ in range(3)]
    weighed = Reading.objects.filter(
        characteristic__stage__code="final-balance", characteristic__code="mass"
    )
    result = {reading.propeller: Decimal(reading.entered) for reading in weighed}
    assert set(result) == set(several)
    lightest = min(several, key=result.__getitem__)
    near = [p for p, grams in result.items() if abs(grams - result[lightest]) <= 1]
    assert lightest in near

    # Without a serial there is nothing to sign, release or print a record of.
    assert serials_like("no marks", 10) == []
