"""Situations with glue, press and coupon (trade notes 1, 2, 3, 10, 11, 12)."""

import datetime as dt

import pytest

from records.management.demo.workshop import INSPECTOR
from records.models import Coupon, CouponTest, Hold, JointSpread, Lot
from records.queries.gluing.clock import Standing, glue_clock
from records.queries.trace.history import where_to
from records.rules.deviations.opening import Touched
from records.rules.gates.release import release_findings
from records.services import coupons, lots
from records.services.refusal import Refusal
from tests.journeys.told import DAY, MINUTE, TALL, held, made_of, written_about

Side = JointSpread.Side


def test_situation_01_a_second_mix_half_way_through_a_stack(told):
    blank = told.stacked(TALL)
    first = told.blanks.mix()
    for joint in (1, 2, 3):
        told.close(blank, joint, first)
    told.close(blank, 4, first, side=Side.LOWER)
    second = told.blanks.mix()
    told.close(blank, 4, second, side=Side.UPPER)
    for joint in (5, 6):
        told.close(blank, joint, second)

    assert second.number != first.number
    assert told.missing(blank, "glue-up")[0].startswith("Room and wood temperature")
    told.bench.do(blank, "glue-up")
    told.pressed(blank)
    told.bench.look(blank, "press")

    by_joint = {n: [] for n in range(1, 7)}
    for spread in made_of(blank).spreads:
        by_joint[spread.joint].append(spread.mix)
    assert by_joint == {
        1: [first],
        2: [first],
        3: [first],
        4: [first, second],
        5: [second],
        6: [second],
    }

    # Two mixes ask for two coupons; one alone does not do.
    told.wait(2 * DAY)
    told.blanks.break_coupons([first], "birch")
    assert f"Mix {second} has no coupon yet." in told.missing(blank, "coupon")
    told.blanks.break_coupons([second], "birch")
    told.bench.do(blank, "coupon")
    assert {c.mix for c in made_of(blank).coupons} == {first, second}


def test_situation_02_the_clock_warns_and_a_late_joint_is_flagged_not_stopped(told):
    blank = told.stacked()
    mix = told.blanks.mix()
    told.close(blank, 1, mix)
    life = glue_clock(blank, told.clock.now).mixes[0].life
    assert life.standing is Standing.IN_TIME

    # It warns while there is still time to do something about it.
    near = glue_clock(blank, life.at - 10 * MINUTE).mixes[0].life
    assert near.standing is Standing.SOON
    assert near.left_s == pytest.approx(600)

    told.clock.at_least(life.at + MINUTE)
    assert glue_clock(blank, told.clock.now).mixes[0].life.standing is Standing.OVER
    late = told.close(blank, 2, mix)
    assert late.verdict == JointSpread.Verdict.OUTSIDE
    assert f"after mix {mix} was made; its working life at 22.5\xa0°C" in late.flags

    # The glue-up goes on, and into the press.
    fresh = told.blanks.mix()
    told.close(blank, 3, fresh)
    told.close(blank, 4, fresh)
    load = told.pressed(blank)
    told.bench.read_stage(blank, "glue-up")

    # Only afterwards, with clean hands, somebody has to decide about joint 2, and
    # about the first one, which waited for the press too long.
    assert any(
        f"Press load {load}: Joint 1 with mix {mix} waited" in sentence
        for sentence in told.missing(blank, "press")
    )
    [open_joint] = told.missing(blank, "glue-up")
    assert open_joint.startswith("Joint 2 is flagged and not disposed of.")
    with pytest.raises(Refusal, match="Joint 2 is flagged"):
        told.bench.sign(blank, "glue-up")
    deviation = told.deviate(
        "Joints closed and pressed late", Touched(blank, joint=2), Touched(load)
    )
    told.accept(deviation)
    told.release_holds()
    told.close_deviation(deviation)
    told.bench.sign(blank, "glue-up")
    told.bench.look(blank, "press")


def test_situation_03_a_power_cut_in_the_press_holds_every_blank_in_the_load(told):
    blanks = [told.stacked(), told.stacked()]
    mixes = [told.blanks.glue(blank) for blank in blanks]
    for blank in blanks:
        told.bench.do(blank, "glue-up")
    load = told.blanks.press(blanks)
    told.wait(dt.timedelta(hours=18))
    told.blanks.watch(load, 17, dip_at=40)
    told.blanks.open(load)

    # The logger's file tells from when to when, and how low.
    load.refresh_from_db()
    assert "Pressure below" in load.opened_flags
    hold = Hold.objects.standing().get()
    assert (hold.load, held(blanks[0]), held(blanks[1])) == (
        load,
        [load.number],
        [load.number],
    )
    assert hold.happened_at == load.on_at + 40 * 10 * MINUTE - 10 * MINUTE
    for blank in blanks:
        blank.refresh_from_db()
        with pytest.raises(Refusal, match="is made with, is on hold"):
            told.bench.do(blank, "press")

    # Coupons of both mixes and a slice are what the decision rests on.
    told.wait(2 * DAY)
    for made in mixes:
        told.blanks.break_coupons(made, "ash")
    deviation = told.deviate("Pressure fell for half an hour", Touched(load))
    with pytest.raises(Refusal, match="Nothing is decided about press load"):
        told.release_holds()
    told.accept(deviation)
    told.release_holds()
    told.close_deviation(deviation)
    for blank in blanks:
        assert held(blank) == []
        told.bench.sign(blank, "press", who=INSPECTOR)
        assert deviation in written_about(blank).deviations


def test_situation_10_a_coupon_that_fails_late_holds_every_child_of_its_mix(told):
    blank = told.glued()
    mix = JointSpread.objects.filter(blank=blank).first().mix
    gone, released = told.released(blank), told.released(blank)
    told.delivered(gone)
    sister = told.propellers.start(blank)
    told.wait(14 * DAY)
    twin = Coupon.objects.get(mix=mix)
    told.blanks.break_coupon(twin, 40)

    assert [str(hold.mix) for hold in Hold.objects.standing()] == [mix.number]
    for child in (blank, sister, released, gone):
        assert held(child) == [mix.number]
    places = where_to("mix", mix.pk).propellers
    assert {(place.serial, place.state, place.owner) for place in places} == {
        (gone.serial, "delivered", "A. Flyer"),
        (released.serial, "released", ""),
        (sister.serial, "in_work", ""),
    }

    # Nothing more is read on the sister, and the released one is not conforming.
    with pytest.raises(Refusal, match=f"Hold point Coupon of blank {blank} is not"):
        told.bench.read_stage(sister, "rough-shape")
    reasons = " ".join(f.sentence for f in release_findings(released))
    assert f"Mix {mix}, which propeller {released} is made with, is on hold" in reasons


def test_situation_11_late_cure_an_early_failure_stays_beside_the_later_pass(told):
    blank = told.stacked()
    [mix] = told.blanks.glue(blank)
    told.bench.do(blank, "glue-up")
    told.pressed(blank)
    told.bench.look(blank, "press")
    told.wait(DAY)
    act = told.act()
    coupon = coupons.make_coupon(
        act=act, mix=mix, wood="White ash", made_at=mix.mixed_at, twin_place="shelf 3"
    )
    told.blanks.break_coupon(coupon, 45)
    told.wait(10 * DAY)
    told.blanks.break_coupon(coupon, 92)

    tests = CouponTest.objects.filter(coupon=coupon).order_by("happened_at")
    assert [test.verdict for test in tests] == ["failed", "passed"]

    # The pass does not undo the failure: somebody with authority says why it may.
    told.bench.read_stage(blank, "coupon")
    failed = f"A coupon of mix {mix} failed and is not disposed of."
    assert told.missing(blank, "coupon") == [failed]
    deviation = told.deviate("Coupon weak at two days", Touched(coupon))
    with pytest.raises(Refusal, match="has no authority to"):
        told.accept(deviation, who="bram")
    told.accept(deviation, reason="The glue cured late: the twin of day 12 is sound.")
    told.release_holds()
    told.close_deviation(deviation)
    told.bench.sign(blank, "coupon", who=INSPECTOR)
    assert tests.count() == 2


def test_situation_12_a_container_passes_its_date_between_two_mixes(told):
    last_day = told.clock.now.date() + 30 * DAY
    old = lots.receive_lot(
        act=told.act(INSPECTOR),
        material=told.workshop.resin.material,
        supplier=told.workshop.supplier,
        supplier_lot="",
        received_on=told.workshop.today,
        expires_on=last_day,
    )
    act = told.act(INSPECTOR)
    lots.check_lot(
        act=act, lot=old, accepted=True, found="Tin sound.", happened_at=act.at
    )
    old.refresh_from_db()
    told.workshop.resin, blank = old, told.stacked()
    told.clock.at_least(dt.datetime.combine(last_day, dt.time(23, 40), dt.UTC))
    before = told.blanks.mix()
    told.wait(30 * MINUTE)
    after = told.blanks.mix()

    # Both mixes may go on the wood; the second one carries why it needs a decision.
    assert "was usable until" not in before.flags
    assert "Take a fresh one, or have a coupon and a decision" in after.flags

    # A number that is not on the tin is not made up: unknown is a value.
    assert Lot.objects.get(pk=old.pk).supplier_lot == ""
    unknown = f"The number on the container of lot {old} is not known."
    assert unknown in before.flags
    assert unknown in after.flags

    # The joints are signed off only when somebody decided about both mixes.
    for joint, mix in enumerate((before, before, after, after), start=1):
        told.close(blank, joint, mix)
    wanting = told.missing(blank, "glue-up")
    for mix in (before, after):
        assert f"Mix {mix}: {unknown} Open a deviation that names the mix." in wanting
