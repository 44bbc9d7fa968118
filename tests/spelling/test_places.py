"""Where on a thing something is."""

from decimal import Decimal

from records.spelling.places import place
from records.spelling.quantities import units_first


def test_blade_station_joint_and_point():
    station = Decimal(165)
    assert place(blade=1, radius_mm=station) == "blade 1 at 165\xa0mm"
    with units_first(lambda: "inch"):
        assert place(blade=1, radius_mm=station) == "blade 1 at 6.496\xa0in"
    assert place(joint=3, point="left end") == "joint 3, left end"
    assert place(point="left end") == "left end"


def test_the_whole_thing_has_no_place():
    assert place() == ""
