"""A shop of many serials, all glued from one pair of glue lots, written in bulk."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, TypeVar

from django.db.models import Model

from records import models as m

M = TypeVar("M", bound=Model)
Row = dict[str, Any]
LAMINATIONS = 4
BLANKS_A_MIX = 10
READINGS_A_SERIAL = 10
AT = dt.datetime(2026, 3, 2, 12, tzinfo=dt.UTC)
BATCH = 2000


@dataclass(frozen=True, slots=True)
class LargeShop:
    """What the measurements ask about."""

    glue_lot: m.Lot
    propellers: list[m.Propeller]


def build(serials: int) -> LargeShop:
    """Write a shop of so many serials. Only into a database made to be measured."""
    person = m.Person.objects.create(login="bench", name="Bench")
    row = {"written_at": AT, "written_by": person}
    timber, mixes = _materials(serials // BLANKS_A_MIX + 1, row)
    revision, track = _plans(row)
    blanks = _many(
        m.Blank(
            number=f"K{n}",
            revision=revision,
            route=track.stage.revision,
            state=m.Blank.State.SHAPED,
            **row,
        )
        for n in range(serials)
    )
    _lay(blanks, timber, row)
    _glue(blanks, mixes, row)
    propellers = _many(
        m.Propeller(serial=f"S{n:06}", blank=blank, revision=revision, **row)
        for n, blank in enumerate(blanks)
    )
    _read(propellers, track, row)
    return LargeShop(mixes[0].resin_lot, propellers)


def _materials(count: int, row: Row) -> tuple[m.Lot, list[m.Mix]]:
    lots = []
    for kind in (
        m.Material.Kind.TIMBER,
        m.Material.Kind.ADHESIVE,
        m.Material.Kind.HARDENER,
    ):
        material = m.Material.objects.create(kind=kind, name=str(kind.label), **row)
        lots.append(
            m.Lot.objects.create(
                number=f"L-{kind}", material=material, received_on=AT.date(), **row
            )
        )
    timber, resin, hardener = lots
    low_and_high = {
        f"{name}_{side}": 1
        for name, unit in (("parts", ""), ("spread", "_gm2"), ("pressure", "_pa"))
        for side in (f"low{unit}", f"high{unit}")
    }
    sheet = m.GlueSheet.objects.create(
        adhesive=resin.material, revision=1, source="bench", **low_and_high, **row
    )
    return timber, _many(
        m.Mix(
            number=f"M{n}",
            sheet=sheet,
            resin_lot=resin,
            hardener_lot=hardener,
            resin_g=500,
            hardener_g=100,
            parts=20,
            mixed_at=AT,
            temperature_c=20,
            working_life_min=240,
            **row,
        )
        for n in range(count)
    )


def _plans(row: Row) -> tuple[m.Revision, m.Characteristic]:
    design = m.Design.objects.create(model="Bench", **row)
    revision = m.Revision.objects.create(
        design=design,
        number="A",
        drawing="bench",
        reason="bench",
        design_authority="bench",
        basis=m.Revision.Basis.EXPERIMENTAL,
        hand=m.Revision.Hand.RIGHT,
        mounting=m.Revision.Mounting.TRACTOR,
        laminations=LAMINATIONS,
        **dict.fromkeys(_MEASURES, 1),
        **row,
    )
    route = m.Route.objects.create(name="Bench", **row)
    plan = m.RouteRevision.objects.create(route=route, number=1, reason="-", **row)
    stage = m.Stage.objects.create(
        revision=plan, order=1, code="track", name="Track", scope="propeller", **row
    )
    return revision, m.Characteristic.objects.create(
        stage=stage, code="track", name="Track", on="propeller", unit="mm", **row
    )


_MEASURES = [
    field.name
    for field in m.Revision._meta.concrete_fields
    if field.get_internal_type()
    in {"DecimalField", "PositiveIntegerField", "PositiveSmallIntegerField"}
    and not field.null
    and field.name not in {"blades", "laminations"}
]


def _lay(blanks: list[m.Blank], timber: m.Lot, row: Row) -> None:
    boards = _many(
        m.Board(number=f"B{n}", lot=timber, **row) for n in range(len(blanks))
    )
    _many(
        m.Lamination(
            number=f"{board.number}-{place}",
            board=board,
            blank=blank,
            position=place,
            **row,
        )
        for board, blank in zip(boards, blanks, strict=True)
        for place in range(1, LAMINATIONS + 1)
    )


def _glue(blanks: list[m.Blank], mixes: list[m.Mix], row: Row) -> None:
    _many(
        m.JointSpread(
            blank=blank,
            joint=joint,
            mix=mixes[n // BLANKS_A_MIX],
            spread_at=AT,
            closed_at=AT,
            verdict=m.JointSpread.Verdict.INSIDE,
            **row,
        )
        for n, blank in enumerate(blanks)
        for joint in range(1, LAMINATIONS)
    )


def _read(
    propellers: list[m.Propeller], characteristic: m.Characteristic, row: Row
) -> None:
    _many(
        m.Reading(
            characteristic=characteristic,
            propeller=propeller,
            happened_at=AT + dt.timedelta(minutes=n),
            entered="1.0",
            unit="mm",
            verdict=m.Reading.Verdict.INSIDE,
            **row,
        )
        for propeller in propellers
        for n in range(READINGS_A_SERIAL)
    )


def _many(rows: Iterable[M]) -> list[M]:
    made = list(rows)
    type(made[0])._default_manager.bulk_create(made, batch_size=BATCH)
    return made
