"""Situations with wood, stacks and blanks (trade notes 4, 8 and the reserve)."""

from dataclasses import replace
from decimal import Decimal

import pytest

from records.management.demo.drawings import PULLER
from records.management.demo.workshop import INSPECTOR, KEEPER
from records.models import Lamination, PressLoad
from records.queries.trace.history import where_to
from records.rules.builds.stacking import pairs_weigh_alike
from records.rules.deviations.opening import Touched
from records.services import boards, designs
from records.services.builds import propellers as builds
from records.services.builds import stacking
from records.services.deviations import dispositions
from records.services.refusal import Refusal
from tests.journeys.told import DAY, SMALL, TALL, held, made_of, written_about


def sawn(told, stock, count, mass_g=2600):
    """Saw laminations from boards by turns."""
    return [
        boards.saw_lamination(
            act=told.act(),
            board=stock[n % len(stock)],
            place=f"{n + 1} from the butt",
            mass_g=Decimal(mass_g),
        )
        for n in range(count)
    ]


def laid(told, model, stack):
    """Plan a blank and lay a stack in it."""
    blank = stacking.plan_blank(
        act=told.act(), revision=told.workshop.designs[model], route=told.workshop.route
    )
    order = [(piece, False) for piece in stack]
    return stacking.lay_laminations(act=told.act(), blank=blank, order=order)


def test_situation_04_a_lamination_found_cracked_leaves_an_explained_gap(told):
    stock = told.boards("ash")
    told.wait(15 * DAY)
    for board in stock:
        told.bench.do(board, "conditioning")
    stack = sawn(told, stock, 5)
    blank = laid(told, SMALL, stack)
    told.bench.do(blank, "saw")
    cracked = stack[2]
    boards.void_lamination(
        act=told.act(), lamination=cracked, reason="End check opened overnight"
    )

    # The stack has a hole, and what was signed over it holds no longer.
    assert "No lamination is laid in place 3." in told.missing(blank, "dry-stack")
    assert told.bench.state(blank, "saw").signed is None

    # The replacement gets a number of its own; the void one is never given again.
    [fresh] = sawn(told, stock[:1], 1, mass_g=2750)
    assert fresh.number == f"{stock[0]}-4"
    with pytest.raises(Refusal, match="is void"):
        stacking.lay_in_place(
            act=told.act(), blank=blank, position=3, lamination=cracked, turned=False
        )
    stacking.lay_in_place(
        act=told.act(), blank=blank, position=1, lamination=fresh, turned=False
    )
    stacking.lay_in_place(
        act=told.act(), blank=blank, position=3, lamination=stack[0], turned=False
    )

    # Order and masses are looked at again: the new piece makes a poor pair.
    findings = made_of(blank)
    assert [piece.number for piece in findings.laminations] == [
        fresh.number,
        *(stack[n].number for n in (1, 0, 3, 4)),
    ]
    [poor] = pairs_weigh_alike(findings.laminations)
    assert poor.sentence.startswith(f"{fresh.number} (2750\xa0g) and {stack[4].number}")
    told.bench.read_stage(blank, "saw")
    assert told.missing(blank, "saw") == []

    # The register explains the gap.
    [gap] = findings.voided
    assert (gap.number, gap.void_reason) == (
        cracked.number,
        "End check opened overnight",
    )


CLIMB = replace(PULLER, figures=PULLER.figures | {"pitch_mm": Decimal(960)})


def climb_drawn(told):
    """Draw the same propeller with less pitch, as a design of its own."""
    figures = CLIMB.figures | {"number": "A", "drawing": "C60C sheet 1"}
    design = designs.add_design(act=told.act(KEEPER), model="Curlew 60 Climb")
    told.workshop.designs[design.model] = designs.issue_revision(
        act=told.act(KEEPER),
        design=design,
        stations=CLIMB.stations(),
        species=[told.workshop.woods["birch"]],
        **figures,
    )
    return told.workshop.designs[design.model]


def test_situation_08_two_propellers_of_one_blank_one_finished_to_another_pitch(told):
    other = climb_drawn(told)
    blank = told.glued(TALL)
    first, second = told.propellers.start(blank), told.propellers.start(blank)
    told.tell(told.propellers.made(second, "rough-shape", "hub"))
    act = told.act()
    builds.designate(
        act=act,
        propeller=second,
        revision=other,
        reason="Ordered for a glider tug",
        happened_at=act.at,
    )
    second.refresh_from_db()

    # Planned as one model, finished as another: only what is marked is final.
    assert (str(blank.revision.design), str(second.revision.design)) == (
        "Curlew 60",
        "Curlew 60 Climb",
    )
    told.tell(told.propellers.made(second, "finish-shape", "marking"))
    [marked] = [
        r for r in written_about(second).readings if r.characteristic.code == "marked"
    ]
    assert marked.entered.startswith(f"Curlew 60 Climb {second}")
    angles = {
        r.station.angle_deg
        for r in written_about(second).readings
        if r.characteristic.code == "angle"
    }
    assert angles == {s["angle_deg"] for s in CLIMB.stations()}

    # Both came of the same joints and the same coupon, and both say so.
    for child in (first, second):
        result = made_of(child)
        assert [s.joint for s in result.spreads] == [1, 2, 3, 4, 5, 6]
        assert [c.mix for c in result.coupons] == result.joint_mixes
    [mix] = result.joint_mixes
    reached = where_to("mix", mix.pk).propellers
    assert {place.serial for place in reached} == {first.serial, second.serial}


def test_reserve_customer_changes_the_order_after_sawing(told):
    """What was sawn and laid for one model goes into another; the plan stays."""
    climb = climb_drawn(told)
    stock = told.boards("birch")
    told.wait(15 * DAY)
    pieces = sawn(told, stock, 7)
    ordered = laid(told, TALL, pieces)
    with pytest.raises(Refusal, match="take it out there first"):
        laid(told, climb.design.model, pieces)
    stacking.lay_laminations(act=told.act(), blank=ordered, order=[])
    again = laid(told, climb.design.model, pieces)

    assert made_of(ordered).laminations == []
    assert made_of(again).laminations == pieces
    assert (str(ordered.revision.design), str(again.revision.design)) == (
        "Curlew 60",
        "Curlew 60 Climb",
    )


def test_reserve_the_same_board_in_two_blanks(told):
    [board] = told.boards("ash", 1)
    pieces = sawn(told, [board], 10)
    blanks = [laid(told, SMALL, pieces[:5]), laid(told, SMALL, pieces[5:])]
    assert where_to("board", board.pk).blanks == blanks

    # A board may go in many blanks; a lamination in one.
    with pytest.raises(Refusal, match="A lamination is in one blank at most"):
        laid(told, SMALL, pieces[4:9])
    told.deviate("Compression failure found in the rest", Touched(board))
    assert [held(blank) for blank in blanks] == [[board.number]] * 2


def test_reserve_two_blanks_of_different_species_in_one_press_load(told):
    blanks = [told.stacked(TALL, "birch"), told.stacked(TALL, "cherry")]
    for blank in blanks:
        told.blanks.glue(blank)
        told.bench.do(blank, "glue-up")
    load = told.blanks.press(blanks)
    told.wait(DAY)
    told.blanks.watch(load, 17)
    told.blanks.open(load)

    # One pressure for both, over the area of both.
    load = PressLoad.objects.get()
    assert load.flags == ""
    assert [b.number for b in where_to("load", load.pk).blanks] == [
        b.number for b in blanks
    ]
    woods = {str(lot.material) for b in blanks for lot in made_of(b).timber_lots}
    assert woods == {"Yellow birch", "Black cherry"}
    alone = told.blanks.press([told.glued_wet(TALL)])
    assert load.glued_area_mm2 == pytest.approx(2 * alone.glued_area_mm2)


def test_reserve_a_humidity_excursion_over_a_weekend(told):
    """The dehumidifier failed: everything in the room is measured again."""
    stock = told.boards("ash")
    told.wait(15 * DAY)
    for board in stock:
        told.bench.do(board, "conditioning")
    told.wait(2 * DAY)
    deviation = told.deviate(
        "Glue room at 81 % humidity from Saturday to Monday",
        *[Touched(board) for board in stock],
        required="45 to 55 %",
        found="81 % at 19 °C, by the room's logger",
    )
    with pytest.raises(Refusal, match="is on hold since"):
        sawn(told, stock, 1)

    stage = told.bench.state(stock[0], "conditioning").stage
    act = told.act(INSPECTOR)
    dispositions.dispose(
        act=act,
        deviation=deviation,
        kind="rework",
        reason="Measure again, and wait until it stands still.",
        happened_at=act.at,
        repeat=[stage],
    )
    told.release_holds()
    told.close_deviation(deviation)
    for board in stock:
        [first, *_] = told.missing(board, "conditioning")
        assert first == (
            "Days in the room has to be read again: "
            f"deviation {deviation.number} asks to repeat Conditioning."
        )
        told.wait(7 * DAY)
        told.bench.do(board, "conditioning")
    assert sawn(told, stock, 2)


def test_reserve_a_lamination_turned_end_for_end_by_mistake(told):
    stock = told.boards("ash")
    told.wait(15 * DAY)
    stack = sawn(told, stock, 5)
    blank = laid(told, SMALL, stack)
    told.bench.read_stage(blank, "saw")

    # Seen in the dry stack: laid again as drawn.
    order = [(piece, n == 2) for n, piece in enumerate(stack)]
    stacking.lay_laminations(act=told.act(), blank=blank, order=order)
    assert [p.turned for p in made_of(blank).laminations] == [
        False,
        False,
        True,
        False,
        False,
    ]

    # Seen when the glue is on: the order is fixed, and the mistake is on record.
    mix = told.blanks.mix()
    told.close(blank, 2, mix)
    with pytest.raises(Refusal, match="Joint 2 beside place 3 is closed"):
        stacking.lay_in_place(
            act=told.act(), blank=blank, position=3, lamination=stack[2], turned=False
        )
    piece = Lamination.objects.get(pk=stack[2].pk)
    told.deviate("Lamination 3 lies turned", Touched(blank), Touched(piece))
    assert held(blank) == [blank.number, piece.number]
