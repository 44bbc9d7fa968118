"""Where a stage wants a reading, and what is left there."""

import pytest

from records.queries.builds.progress import progress_of
from records.rules.readings.slots import in_words, numbered, open_slots, slots
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(db):
    return factories.PropellerFactory(blank=factories.glued_blank(laminations=3))


def characteristic(propeller, scope="propeller", **kwargs):
    stage = factories.StageFactory(revision=propeller.blank.route, scope=scope)
    return factories.CharacteristicFactory(stage=stage, **kwargs)


def state_of(characteristic, thing):
    return progress_of(thing).at(thing, characteristic.stage.code)


def places(characteristic, thing):
    return [
        s.place(thing) for s in slots(state_of(characteristic, thing), characteristic)
    ]


def test_once_is_one_place(propeller):
    assert places(characteristic(propeller), propeller) == [""]


def test_each_blade_and_each_station_of_each_blade(propeller):
    assert places(characteristic(propeller, per="blade"), propeller) == [
        "blade 1",
        "blade 2",
    ]
    findings = places(characteristic(propeller, per="station"), propeller)
    assert len(findings) == 8
    assert findings[:3] == [
        "blade 1 at 258\xa0mm",
        "blade 2 at 258\xa0mm",
        "blade 1 at 430\xa0mm",
    ]


def test_a_difference_of_blades_has_a_place_a_station(propeller):
    spread = characteristic(
        propeller, per="station", computed="range_of_blades", compares="angle"
    )
    assert places(spread, propeller)[0] == "at 258\xa0mm"
    assert len(places(spread, propeller)) == 4


def test_joints_lie_between_laminations(propeller):
    gap = characteristic(propeller, scope="blank", on="blank", per="joint")
    assert places(gap, propeller.blank) == ["joint 1", "joint 2"]


def test_each_part_of_a_blank_is_a_place(propeller):
    blank = propeller.blank
    mass = characteristic(propeller, scope="blank", on="lamination")
    numbers = [x.number for x in blank.laminations.order_by("position")]
    assert places(mass, blank) == [f"lamination {n}" for n in numbers]


def test_one_coupon_of_a_mix_is_enough(propeller):
    mix = propeller.blank.spreads.first().mix
    coupons = [factories.CouponFactory(mix=mix) for _ in range(2)]
    fibres = characteristic(propeller, scope="blank", on="coupon")
    assert len(places(fibres, propeller.blank)) == 1
    factories.ReadingFactory(characteristic=fibres, propeller=None, coupon=coupons[1])
    assert open_slots(state_of(fibres, propeller.blank)) == []


def test_what_is_left_counts_down(propeller):
    hub = characteristic(propeller, at_least=4, name="Hub")
    for left in (4, 3):
        [slot] = open_slots(state_of(hub, propeller))
        assert slot.left == left
        factories.ReadingFactory(characteristic=hub, propeller=propeller)


def test_a_difference_is_wanted_once_however_many_are_asked(propeller):
    spread = characteristic(
        propeller, computed="range_of_points", compares="hub", at_least=4
    )
    [slot] = open_slots(state_of(spread, propeller))
    assert slot.left == 1


def test_what_is_not_required_leaves_no_place_open(propeller):
    assert (
        open_slots(state_of(characteristic(propeller, required=False), propeller)) == []
    )


def test_missing_readings_in_words(propeller):
    hub = characteristic(propeller, name="Hub thickness", at_least=2)
    slot_list = open_slots(state_of(hub, propeller))
    assert in_words(hub, slot_list, propeller) == "Hub thickness: 2 readings missing."


def test_a_thing_is_linked_by_its_number(propeller):
    assert numbered(propeller) == propeller.serial
