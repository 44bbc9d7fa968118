"""A trace spelled as plain values: what `manage.py trace --json` promises to print."""

import datetime as dt
from collections.abc import Mapping
from typing import Any

from django.db.models import Model

from records.models import (
    CouponTest,
    Deviation,
    Hold,
    JointSpread,
    Lamination,
    Lot,
    MaterialUse,
    Mix,
    PressLoad,
    Reading,
    SignOff,
)
from records.queries.provenance.chain import chain_of, made_of_all
from records.queries.provenance.written import Pressed
from records.queries.reach.destinations import Destination
from records.queries.subjects import number_of
from records.queries.trace.history import History, Reached
from records.queries.trace.serials import ranges


def serial_facts(history: History) -> dict[str, Any]:
    """Spell all that one serial was made of, seen as and decided on."""
    made, written = history.made, history.written
    thing = made.propeller or made.blank
    return {
        "blank": made.blank.number if made.blank else None,
        "boards": sorted(board.number for board in made.boards),
        "coupons": [
            {
                "mix": coupon.mix.number,
                "number": coupon.number,
                "tests": [_test(test) for test in coupon.tests.all()],
            }
            for coupon in made.coupons
        ],
        "deviations": [_deviation(deviation) for deviation in written.deviations],
        "gauges": [{"name": g.name, "number": g.number} for g in history.gauges],
        "glue_lots": [_lot(lot) for lot in made.glue_lots],
        "holds": [_hold(hold) for hold in history.holds],
        "joints": [_joint(spread) for spread in made.spreads],
        "laminations": [_lamination(piece) for piece in made.laminations],
        "later_materials": [_use(use) for use in made.uses],
        "mixes": [_mix(mix) for mix in made.mixes],
        "press_loads": [_load(load, written.pressed) for load in made.loads],
        "readings": [_reading(reading) for reading in written.readings],
        "serial": made.propeller.serial if made.propeller else None,
        "signoffs": [_signoff(signoff) for signoff in written.signoffs],
        "state": thing.state if thing else None,
        "timber_lots": [_lot(lot) for lot in made.timber_lots],
        "void_laminations": [
            {"number": piece.number, "reason": piece.void_reason}
            for piece in made.voided
        ],
    }


def reach_facts(kind: str, thing: Model, reached: Reached) -> dict[str, Any]:
    """Spell where one material, load or gauge went: the blanks and serials, exactly."""
    number = number_of(thing)
    made = made_of_all(reached.propellers)
    return {
        "blanks": [{"number": b.number, "state": b.state} for b in reached.blanks],
        "kind": kind,
        "number": number,
        "ranges": ranges(place.serial for place in reached.propellers),
        "serials": [
            _place(place) | {"through": chain_of(made[place.pk], kind, number)}
            for place in reached.propellers
        ],
    }


def _place(place: Destination) -> dict[str, Any]:
    return {
        "blank": place.blank_number,
        "handed_over_at": _moment(place.handed_over_at),
        "in_shop": place.in_shop,
        "model": place.model,
        "owner": place.owner or None,
        "serial": place.serial,
        "state": place.state,
    }


def _lot(lot: Lot) -> dict[str, Any]:
    return {
        "material": lot.material.name,
        "number": lot.number,
        "supplier": lot.supplier.name if lot.supplier else None,
        "supplier_lot": lot.supplier_lot or None,
    }


def _lamination(piece: Lamination) -> dict[str, Any]:
    return {
        "board": piece.board.number,
        "lot": piece.board.lot.number,
        "number": piece.number,
        "position": piece.position,
        "turned": piece.turned,
    }


def _mix(mix: Mix) -> dict[str, Any]:
    return {
        "hardener_lot": mix.hardener_lot.number if mix.hardener_lot else None,
        "mixed_at": _moment(mix.mixed_at),
        "number": mix.number,
        "resin_lot": mix.resin_lot.number,
    }


def _joint(spread: JointSpread) -> dict[str, Any]:
    return {
        "closed_at": _moment(spread.closed_at),
        "joint": spread.joint,
        "mix": spread.mix.number,
        "side": spread.side,
        "spread_at": _moment(spread.spread_at),
        "verdict": spread.verdict,
    }


def _use(use: MaterialUse) -> dict[str, Any]:
    return {
        "happened_at": _moment(use.happened_at),
        "lot": use.lot.number if use.lot else None,
        "mix": use.mix.number if use.mix else None,
        "place": use.place,
    }


def _load(load: PressLoad, pressed: Mapping[int, Pressed]) -> dict[str, Any]:
    return {
        "lowest_pa": pressed.get(load.pk, Pressed()).lowest_pa,
        "number": load.number,
        "off_at": _moment(load.off_at),
        "on_at": _moment(load.on_at),
        "press": load.press.name,
    }


def _test(test: CouponTest) -> dict[str, Any]:
    return {
        "happened_at": _moment(test.happened_at),
        "verdict": test.verdict,
        "wood_failure_pct": f"{test.wood_failure_pct:f}",
    }


def _reading(reading: Reading) -> dict[str, Any]:
    characteristic = reading.characteristic
    return {
        "blade": reading.blade,
        "by": reading.written_by.login,
        "characteristic": characteristic.code,
        "corrected": hasattr(reading, "corrected_by"),
        "entered": reading.entered,
        "gauge": reading.gauge.number if reading.gauge else None,
        "happened_at": _moment(reading.happened_at),
        "high": _plain(reading.high),
        "joint": reading.joint,
        "low": _plain(reading.low),
        "on": reading.subject_kind,
        "on_number": number_of(reading.subject),
        "point": reading.point,
        "stage": characteristic.stage.code,
        "station_mm": _plain(reading.station.radius_mm) if reading.station else None,
        "unit": reading.unit,
        "verdict": reading.verdict,
    }


def _signoff(signoff: SignOff) -> dict[str, Any]:
    return {
        "by": signoff.printed_name,
        "check_kind": signoff.check_kind,
        "happened_at": _moment(signoff.happened_at),
        "meaning": signoff.meaning,
        "on": signoff.subject_kind,
        "on_number": number_of(signoff.subject),
        "stage": signoff.stage.code,
    }


def _deviation(deviation: Deviation) -> dict[str, Any]:
    return {
        "decisions": [d.kind for d in deviation.dispositions.all()],
        "number": deviation.number,
        "state": deviation.state,
        "title": deviation.title,
    }


def _hold(hold: Hold) -> dict[str, Any]:
    return {
        "deviation": hold.deviation.number if hold.deviation else None,
        "happened_at": _moment(hold.happened_at),
        "on": hold.subject_kind,
        "on_number": number_of(hold.subject),
        "reason": hold.reason,
    }


def _moment(at: dt.datetime | None) -> str | None:
    return at.astimezone(dt.UTC).isoformat() if at else None


def _plain(value: object) -> str | None:
    return None if value is None else f"{value:f}"
