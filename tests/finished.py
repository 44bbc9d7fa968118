"""A propeller taken through the whole default route, with readings and signatures."""

import datetime as dt
from copy import copy
from dataclasses import dataclass, replace
from decimal import Decimal

import pytest
from django.apps import apps
from django.core.management.color import no_style
from django.db import connection, transaction
from django.test import override_settings

from records.models import (
    AllowedSpecies,
    Authority,
    BoardCheck,
    Characteristic,
    CouponTest,
    LotCheck,
    Material,
    Person,
    PressSample,
    Propeller,
)
from records.queries.builds.progress import progress_of
from records.rules.readings.draft import Draft
from records.rules.readings.slots import open_slots
from records.services.ledger import Act
from records.services.readings.log import log_grid
from records.services.routes import write_default_route
from records.services.signoffs import sign_stage
from tests import factories

NOON = factories.NOON
HOUR = dt.timedelta(hours=1)
LAMINATIONS = 4
WOOD = "Yellow birch"
GAUGES = {
    "%": "Moisture meter, pins",
    "mm": "Steel rule and calliper",
    "deg": "Blade protractor",
    "g.mm": "Balance stand",
    "g": "Scale",
    "MPa": "Press gauge",
}
# What the drawing asks for, or what a bench sees, where a limit does not say.
SEEN = {
    ("hub", "thickness"): "110.02",
    ("hub", "bore"): "40.1",
    ("hub", "bolt-hole"): "13.02",
    ("finish-shape", "length"): "860.5",
    ("final-balance", "hub-thickness"): "110.0",
    ("final-balance", "mass"): "3480",
    ("final-balance", "moisture"): "9.6",
    ("final-balance", "tip"): "0.2",
    ("final-balance", "horizontal"): "420",
    ("final-balance", "vertical"): "-180",
    ("press", "gauge-pressure"): "18.2",
    ("press", "lowest-pressure"): "17.4",
    ("marking", "marked"): "TA-1 2026-001 1720 x 1200 RH 2700 max",
    ("saw", "mass"): "3150",
}


@dataclass
class Finished:
    """What was made, and by whom."""

    propeller: Propeller
    maker: Person
    inspector: Person
    act: Act


@pytest.fixture(scope="module")
def built(django_db_setup, django_db_blocker):
    """Make one finished propeller for all tests of a module that import this."""
    quick = override_settings(
        PASSWORD_HASHERS=["django.contrib.auth.hashers.MD5PasswordHasher"]
    )
    with quick, django_db_blocker.unblock(), transaction.atomic():
        yield _made_once()
        transaction.set_rollback(True)


_kept = {}


def _made_once():
    """Make the propeller by the services once, then write the same rows again."""
    if _kept:
        for model, rows in _kept["rows"].items():
            model._default_manager.bulk_create(map(copy, rows))
        if connection.vendor == "postgresql":  # its counters don't hear of given keys
            resets = connection.ops.sequence_reset_sql(no_style(), _kept["rows"])
            with connection.cursor() as cursor:
                cursor.execute("".join(resets))
        return _read_anew(_kept["finished"])
    factories.ShopFactory()
    finished = _kept["finished"] = make()
    models = apps.get_app_config("records").get_models()
    rows = {model: list(model._default_manager.all()) for model in models}
    _kept["rows"] = {model: result for model, result in rows.items() if result}
    return finished


def _read_anew(finished):
    maker = Person.objects.get(pk=finished.maker.pk)
    return Finished(
        Propeller.objects.get(pk=finished.propeller.pk),
        maker,
        Person.objects.get(pk=finished.inspector.pk),
        replace(finished.act, by=maker),
    )


@pytest.fixture
def made(built, db):
    """Give the finished propeller as it is in the book: each test starts anew."""
    return replace(built, propeller=Propeller.objects.get(pk=built.propeller.pk))


def make(
    *,
    basis="experimental",
    serial="2026-001",
    due_on=dt.date(2030, 1, 10),
    allowed=True,
    **design,
):
    """Make a propeller with nothing missing: ready to be released."""
    maker = factories.owner(name="Mara Holt")
    inspector = factories.PersonFactory(role=Person.Role.INSPECTOR, name="Ines Perrot")
    for deed in Authority.Act.values:
        factories.AuthorityFactory(person=inspector, act=deed)
    act = Act(by=maker, at=NOON + 2000 * HOUR)
    route = write_default_route(act=replace(act, at=NOON), name=f"Route of {serial}")
    # Numbers of its own: what a test compares does not hang on the tests before it.
    of = serial.rsplit("-", 1)[-1].lstrip("0")
    revision = factories.RevisionFactory(
        design__model=f"TA-{of}",
        basis=basis,
        laminations=LAMINATIONS,
        lamination_mm=27.5,
        **design,
    )
    blank = _blank(revision, route, of)
    if allowed:
        _allow(revision, blank)
    propeller = factories.PropellerFactory(
        serial=serial, blank=blank, revision=revision
    )
    gauges = _gauges(due_on, of)
    for state in progress_of(propeller).states:
        _read(propeller, state, act, gauges)
        _sign(propeller, state, replace(act, by=inspector))
    return Finished(propeller, maker, inspector, act)


def _blank(revision, route, of):
    blank = factories.BlankFactory(
        number=f"K{of}01", revision=revision, route=route, state="shaped"
    )
    wood = Material.objects.filter(name=WOOD).first()
    wood = wood or factories.TimberFactory(name=WOOD)
    lot = factories.LotFactory(number=f"L{of}00", material=wood)
    LotCheck.objects.create(
        lot=lot, happened_at=NOON, accepted=True, found="As ordered.", **_pen()
    )
    boards = [
        factories.BoardFactory(number=f"B{of}0{n}", lot=lot, state="sawn")
        for n in (1, 2)
    ]
    for board in boards:
        BoardCheck.objects.create(
            board=board, happened_at=NOON, rings="quarter", accepted=True, **_pen()
        )
    for place in range(1, LAMINATIONS + 1):
        factories.LaminationFactory(
            number=f"{boards[place % 2]}-{place}",
            board=boards[place % 2],
            blank=blank,
            position=place,
            mass_g=3150 + place,
        )
    first, second = (factories.MixFactory(number=f"M{of}0{n}") for n in (1, 2))
    for joint in range(1, LAMINATIONS):
        factories.JointSpreadFactory(
            blank=blank, joint=joint, mix=first if joint < LAMINATIONS - 1 else second
        )
    _press(blank)
    for mix in (first, second):
        _coupon(mix)
    return blank


def _allow(revision, blank):
    wood = blank.laminations.first().board.lot.material
    AllowedSpecies.objects.create(revision=revision, material=wood, **_pen())


def _press(blank):
    load = factories.PressLoadFactory(
        number=f"P{blank.number[1:]}", off_at=NOON + 20 * HOUR
    )
    factories.LoadedBlankFactory(load=load, blank=blank, verdict="inside")
    for step in range(40):
        PressSample.objects.create(
            load=load,
            at=load.on_at + step * HOUR / 2,
            entered=f"{18.2 - step * 0.01:.2f}",
            unit="MPa",
            glue_line_pa=1_190_000 - 700 * step - (90_000 if step == 9 else 0),
            temperature_c=Decimal("21.8"),
            source="logger",
            **_pen(),
        )


def _coupon(mix):
    coupon = factories.CouponFactory(
        number=f"C{mix.number[1:]}", mix=mix, twin_place="Rack 2"
    )
    CouponTest.objects.create(
        coupon=coupon,
        happened_at=NOON + 48 * HOUR,
        method="broken by hand, in a vice",
        wood_failure_pct=90,
        least_wood_failure_pct=75,
        strength_pa=None,
        limit_source="common practice, no source",
        verdict="passed",
        **_pen(),
    )


def _gauges(due_on, of):
    result = {}
    for number, (unit, name) in enumerate(GAUGES.items(), start=1):
        gauge = factories.GaugeFactory(
            number=f"G{of}0{number}",
            unit=unit,
            name=name,
            range_low=-50_000,
            range_high=50_000,
        )
        factories.CalibrationFactory(gauge=gauge, next_due_on=due_on)
        result[unit] = gauge
    return result


def _read(propeller, state, act, gauges):
    """Take every reading a stage still wants; what is computed follows by itself."""
    by_thing = {}
    for slot in open_slots(state):
        characteristic = slot.characteristic
        if characteristic.is_range:
            continue
        for _ in range(slot.left):
            by_thing.setdefault(slot.thing, []).append(
                Draft(
                    subject=slot.thing,
                    characteristic=characteristic,
                    entered=_value(characteristic, slot),
                    unit=characteristic.unit,
                    happened_at=NOON + (21 + 24 * state.stage.order) * HOUR,
                    gauge=gauges.get(characteristic.unit)
                    if characteristic.gauge_needed
                    else None,
                    blade=slot.blade,
                    station=slot.station,
                    joint=slot.joint,
                )
            )
    for thing, drafts in by_thing.items():
        log_grid(act=act, subject=thing, entries=drafts)


def _value(characteristic, slot):
    if characteristic.kind == Characteristic.Kind.YES_NO:
        return "yes"
    seen = SEEN.get((characteristic.stage.code, characteristic.code))
    if characteristic.nominal:
        column = {"angle": "angle_deg"}.get(
            characteristic.nominal, f"{characteristic.nominal}_mm"
        )
        seen = str(getattr(slot.station, column))
    if characteristic.kind == Characteristic.Kind.NOTE:
        seen = seen or "as drawn"
    return seen or _within(characteristic)


def _within(characteristic):
    limit = characteristic.limits.first()
    if limit is None:
        return {"degC": "21", "%": "50"}.get(characteristic.unit, "30")
    if limit.low is not None and limit.high is not None:
        return f"{(limit.low + limit.high) / 2:f}"
    return f"{limit.low + 2:f}" if limit.low is not None else f"{limit.high / 2:f}"


def _sign(propeller, state, act):
    fresh = progress_of(propeller).at(state.subject, state.stage.code)
    sign_stage(
        act=act,
        subject=state.subject,
        stage=fresh.stage,
        meaning="inspected, as required",
        check_kind="independent",
        method="password",
        happened_at=NOON + (22 + 24 * state.stage.order) * HOUR,
    )


def _pen():
    return {"written_at": NOON, "written_by": Person.objects.order_by("pk").first()}
