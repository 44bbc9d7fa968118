"""Routes are issued whole, and limits set as revisions with their source."""

import datetime as dt
from decimal import Decimal

import pytest

from records.models import Characteristic, Limit, RouteRevision, Stage
from records.queries.routes.plans import default_plan, plan_of
from records.services.refusal import Refusal
from records.services.routes import (
    add_route,
    issue_route_revision,
    set_limit,
    set_route_use,
    write_default_route,
)
from tests import factories

pytestmark = pytest.mark.django_db

STAGE_CODES = [
    *("timber-receipt", "board-inspection", "conditioning", "saw", "dry-stack"),
    *("glue-up", "press", "coupon", "rest", "rough-shape", "hub", "finish-shape"),
    *("first-balance", "edge-tip", "finish", "marking", "final-balance", "release"),
]


@pytest.fixture
def default(act):
    return write_default_route(act=act, name="Laminated, resorcinol")


def sentences(refused):
    return [f.sentence for f in refused.value.findings]


def test_the_default_route_has_every_stage_in_order(default):
    stages = Stage.objects.of(default.pk)
    assert [s.code for s in stages] == STAGE_CODES
    assert [s.order for s in stages] == list(range(1, 19))


def test_every_starting_limit_says_where_it_comes_from(default):
    limits = Limit.objects.all()
    assert limits.count() > 20
    assert all(limit.source for limit in limits)
    assert set(limits.values_list("source_kind", flat=True)) == {
        "published",
        "maker",
        "shop",
    }


@pytest.mark.parametrize(
    ("stage", "code", "sides", "source"),
    [
        # AC 43.13-1B, Table 1-1: slope of grain 1 in 15 for all species (seen).
        ("board-inspection", "grain-slope", ("15", None), "Table 1-1"),
        # FAA airframe handbook, preparing wood for gluing: 8 to 12 % (seen).
        ("board-inspection", "moisture", ("8", "12"), "8 to 12 %"),
        # Resorcinol maker's bulletin: 70 degF at least (seen), 21.1 degC.
        ("glue-up", "room-temperature", ("21.1", None), "70 °F"),
        # MIL-P-26366A: 0.2 deg between blades (seen as quoted).
        ("finish-shape", "angle-difference", (None, "0.2"), "MIL-P-26366A"),
        # Barber, The Aeroplane Speaks, c. 1917: length within 1/16 in (seen).
        ("finish-shape", "length-difference", (None, "1.5875"), "1/16 in"),
    ],
)
def test_published_limits_are_as_printed(default, stage, code, sides, source):
    limit = Limit.objects.get(
        characteristic__code=code, characteristic__stage__code=stage
    )
    assert (limit.low, limit.high) == tuple(s and Decimal(s) for s in sides)
    assert source in limit.source
    assert limit.source_kind in {"published", "maker"}


def test_cautions_stand_where_work_can_hurt(default):
    for code in ("glue-up", "press", "rough-shape", "finish-shape", "finish"):
        assert Stage.objects.get(code=code).caution


def test_wet_glue_is_known_by_what_a_stage_rests_on(default):
    wet = [s.code for s in Stage.objects.of(default.pk) if s.glue_is_wet]
    assert wet == ["glue-up", "press"]


def test_the_press_and_the_drawing_bring_their_own_limits(default):
    own = Characteristic.objects.exclude(nominal="") | Characteristic.objects.filter(
        computed="glue_line_pressure"
    )
    assert own.count() == 5
    assert not Limit.objects.filter(characteristic__in=own).exists()


def test_a_revision_copied_from_another_is_the_same(act, default):
    again = issue_route_revision(
        act=act, route=default.route, stages=plan_of(default), reason="Copy"
    )
    assert again.number == 2

    def shorn(revision):
        plan = plan_of(revision)
        for stage in plan:
            for characteristics in stage["characteristics"]:
                characteristics["limits"] = [
                    (x["low"], x["high"]) for x in characteristics["limits"]
                ]
        return plan

    assert shorn(again) == shorn(default)


def test_a_copied_plan_brings_the_newest_limit_and_each_designs_own(act, default):
    characteristic = Characteristic.objects.get(code="track")
    design = factories.RevisionFactory()
    common = {"source_kind": "shop", "source": "Shop's practice", "reason": "Closer"}
    set_limit(
        act=act, characteristic=characteristic, low=None, high=Decimal(1), **common
    )
    set_limit(
        act=act,
        characteristic=characteristic,
        low=None,
        high=Decimal(3),
        design_revision=design,
        **common,
    )
    new = issue_route_revision(
        act=act, route=default.route, stages=plan_of(default), reason="Copy"
    )
    limits = Limit.objects.filter(
        characteristic__code="track", characteristic__stage__revision=new
    )
    assert {(x.design_revision, x.high) for x in limits} == {
        (None, Decimal(1)),
        (design, Decimal(3)),
    }


def test_a_plan_tells_all_that_is_wrong_with_it_at_once(act):
    route = add_route(act=act, name="R")
    characteristic = {
        "code": "a",
        "name": "A",
        "on": "lot",
        "unit": "furlong",
        "per": "blade",
    }
    stage = {
        "code": "s",
        "name": "S",
        "scope": "blank",
        "characteristics": [characteristic],
    }
    with pytest.raises(Refusal) as refused:
        issue_route_revision(act=act, route=route, stages=[stage, stage], reason="")
    findings = sentences(refused)
    assert "Say what changed, and why." in findings
    assert "Two stages have the code s." in findings
    assert "Stage S: A: say in which unit it is measured." in findings
    assert any("it is read on a blank or lamination" in s for s in findings)
    assert any("only a propeller is read by blade or station" in s for s in findings)
    assert not RouteRevision.objects.exists()


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"computed": "range_of_points"}, "which readings of this stage"),
        ({"plausible_low": 3, "plausible_high": 3}, "is not under the most"),
        ({"nominal": "angle"}, "in a unit of angle"),
        ({"limits": [{"low": 2, "high": 1, "source": "x"}]}, "is more than the most"),
        ({"limits": [{"low": 2}]}, "where its limit comes from"),
        ({"limits": [{"low": 2, "unit": "psi", "source": "x"}]}, "psi is a unit of"),
        ({"kind": "note", "limits": [{"low": 2}]}, "only a figure has a limit"),
        ({"on": "propeller", "per": "joint"}, "only a blank is read by joint"),
    ],
)
def test_a_reading_in_a_plan_is_sound(act, change, sentence):
    characteristic = {"code": "a", "name": "A", "on": "blank", "unit": "mm", **change}
    scope = characteristic["on"]
    stage = {
        "code": "s",
        "name": "S",
        "scope": scope,
        "characteristics": [characteristic],
    }
    with pytest.raises(Refusal, match=sentence):
        issue_route_revision(
            act=act, route=add_route(act=act, name="R"), stages=[stage], reason="New"
        )


def test_the_default_plan_needs_no_change_to_be_issued(act):
    route = add_route(act=act, name="R")
    stages = default_plan()
    assert issue_route_revision(act=act, route=route, stages=stages, reason="Start")


# Limits


@pytest.fixture
def track(shop):
    return factories.CharacteristicFactory(name="Track")


@pytest.fixture
def setting(act, track):
    def call(**changes):
        facts = {
            "characteristic": track,
            "low": None,
            "high": Decimal("1.5"),
            "source_kind": "shop",
            "source": "Shop's practice",
            "reason": "Start",
        }
        return set_limit(act=act, **{**facts, **changes})

    return call


def test_a_limit_is_set_as_its_next_revision(setting, track):
    assert [setting().number, setting(high=Decimal(1)).number] == [1, 2]
    assert [x.high for x in track.limits.order_by("number")] == [Decimal("1.5"), 1]


def test_a_designs_own_limit_counts_by_itself(setting):
    setting()
    design = factories.RevisionFactory()
    assert setting(design_revision=design, high=Decimal(3)).number == 1


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"high": None}, "low"),
        ({"low": Decimal(2)}, "low"),
        ({"unit": "psi"}, "unit"),
        ({"unit": "furlong"}, "unit"),
        ({"source": " "}, "source"),
        ({"reason": ""}, "reason"),
    ],
)
def test_a_limit_is_sound(setting, change, field):
    with pytest.raises(Refusal) as refused:
        setting(**change)
    assert [f.field for f in refused.value.findings] == [field]


def test_a_limit_with_equal_sides_is_sound(setting):
    assert setting(low=Decimal("1.5")).low == Decimal("1.5")


def test_a_limit_that_changes_nothing_is_refused(setting):
    setting()
    with pytest.raises(Refusal, match="in force already"):
        setting()


def test_what_the_drawing_or_the_press_gives_has_no_limit_here(setting):
    angle = factories.CharacteristicFactory(unit="deg", nominal="angle", per="station")
    with pytest.raises(Refusal, match="drawing"):
        setting(characteristic=angle)
    press = factories.CharacteristicFactory(
        unit="psi", computed="glue_line_pressure", on="load"
    )
    with pytest.raises(Refusal, match="press load"):
        setting(characteristic=press)
    words = factories.CharacteristicFactory(unit="", kind="note")
    with pytest.raises(Refusal, match="no figure"):
        setting(characteristic=words, unit="mm")


def test_only_somebody_with_the_authority_plans(act, setting):
    act.by.authorities.filter(act="manage").update(until_on=dt.date(2020, 1, 2))
    with pytest.raises(Refusal, match="no authority to change limits"):
        setting()
    with pytest.raises(Refusal, match="no authority"):
        write_default_route(act=act, name="R")
    with pytest.raises(Refusal, match="no authority"):
        add_route(act=act, name="R")


def test_a_route_goes_out_of_use_and_back(act):
    route = add_route(act=act, name="R")
    assert not set_route_use(act=act, route=route, in_use=False).in_use
    assert set_route_use(act=act, route=route, in_use=True).in_use


def test_two_routes_never_share_a_name(act):
    add_route(act=act, name="R")
    with pytest.raises(Refusal):
        add_route(act=act, name="R")
