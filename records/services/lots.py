"""Take in what the shop buys: suppliers, materials, maker's sheets, lots."""

import datetime as dt
from collections.abc import Sequence
from typing import Any

from django.db.models import Max
from django.utils.timezone import localdate

from records.models import (
    Authority,
    GlueSheet,
    GlueSheetPoint,
    Lot,
    LotCheck,
    Material,
    Supplier,
)
from records.rules import lots as rules
from records.rules.authority import may
from records.rules.moments import already_happened
from records.services.files import Sent, attach, clean
from records.services.ledger import Act, Entry
from records.services.numbers import next_number
from records.services.refusal import refuse_if_blocked


def add_supplier(
    *, act: Act, name: str, address: str = "", contact: str = "", note: str = ""
) -> Supplier:
    """Put somebody the shop buys from in the book."""
    with Entry(act, "add supplier") as entry:
        entry.subject = name
        return entry.add(
            Supplier(name=name, address=address, contact=contact, note=note)
        )


def change_supplier(*, act: Act, supplier: Supplier, **fields: Any) -> Supplier:
    """Change a supplier's address, contact, note, or whether it is still used."""
    with Entry(act, "change supplier") as entry:
        entry.subject = supplier.name
        return entry.change(supplier, **fields)


def add_material(
    *,
    act: Act,
    kind: str,
    name: str,
    family: str = "",
    hardwood: bool | None = None,
) -> Material:
    """Put a timber species, a glue or another product in the book."""
    with Entry(act, "add material") as entry:
        entry.subject = name
        return entry.add(
            Material(kind=kind, name=name, family=family, hardwood=hardwood)
        )


def set_material_use(*, act: Act, material: Material, in_use: bool) -> Material:
    """Say that the shop works with a material, or does not any more."""
    with Entry(act, "set material use") as entry:
        entry.subject = material.name
        return entry.change(material, in_use=in_use)


def write_glue_sheet(
    *,
    act: Act,
    adhesive: Material,
    hardener: Material | None,
    points: Sequence[rules.Point],
    **fields: Any,
) -> GlueSheet:
    """Copy a maker's table into the book as the next revision for its adhesive.

    `points` are (quantity, temperature [°C], time [min]); `fields` are the other
    columns of `GlueSheet`. Needs the authority to change limits.
    """
    day = localdate(act.at)
    with Entry(act, "write glue sheet") as entry:
        refuse_if_blocked(
            [
                *may(act.by, Authority.Act.MANAGE, day),
                *rules.sheet_is_for(adhesive, hardener),
                *rules.sides_are_in_order(fields),
                *rules.table_reads_as_a_makers(points),
            ]
        )
        last = adhesive.glue_sheets.aggregate(last=Max("revision"))["last"] or 0
        sheet = GlueSheet(
            adhesive=adhesive, hardener=hardener, revision=last + 1, **fields
        )
        entry.add(sheet)
        entry.add_many(_cells(sheet, points))
        entry.subject = f"{adhesive} sheet {sheet.revision}"
        return sheet


def _cells(sheet: GlueSheet, points: Sequence[rules.Point]) -> list[GlueSheetPoint]:
    return [
        GlueSheetPoint(
            sheet=sheet, quantity=quantity, temperature_c=celsius, minutes=minutes
        )
        for quantity, celsius, minutes in points
    ]


def receive_lot(
    *,
    act: Act,
    material: Material,
    received_on: dt.date,
    supplier: Supplier | None = None,
    supplier_lot: str = "",
    expires_on: dt.date | None = None,
    **fields: Any,
) -> Lot:
    """Give a delivery its number. An empty `supplier_lot` is recorded as unknown.

    `fields` are quantity, storage, document (by EN 10204) and document_reference.
    """
    with Entry(act, "receive lot") as entry:
        refuse_if_blocked(
            rules.lot_may_come_in(
                material, supplier, received_on, expires_on, localdate(act.at)
            )
        )
        entry.subject = next_number("lot", act.at)
        return entry.add(
            Lot(
                number=entry.subject,
                material=material,
                supplier=supplier,
                supplier_lot=supplier_lot.strip(),
                received_on=received_on,
                expires_on=expires_on,
                **fields,
            )
        )


def check_lot(
    *,
    act: Act,
    lot: Lot,
    accepted: bool,
    found: str,
    happened_at: dt.datetime,
    photo: Sent | None = None,
) -> LotCheck:
    """Accept or refuse a lot after looking at it. Needs the authority to accept."""
    cleaned = clean(photo) if photo else None
    with Entry(act, "check lot") as entry:
        entry.subject = lot.number
        lot.refresh_from_db()
        refuse_if_blocked(
            [
                *may(act.by, Authority.Act.ACCEPT, localdate(act.at)),
                *already_happened(happened_at, act.at),
                *rules.lot_may_be_checked(lot, localdate(happened_at)),
            ]
        )
        check = LotCheck(
            lot=lot, accepted=accepted, found=found, happened_at=happened_at
        )
        entry.add(check)
        state = Lot.State.ACCEPTED if accepted else Lot.State.REFUSED
        entry.change(lot, state=state)
        if cleaned:
            attach(
                entry,
                lot,
                cleaned,
                caption="Receiving check",
                happened_at=happened_at,
            )
        return check


def open_lot(*, act: Act, lot: Lot, opened_on: dt.date) -> Lot:
    """Note the day on which a container was opened."""
    with Entry(act, "open lot") as entry:
        entry.subject = lot.number
        lot.refresh_from_db()
        refuse_if_blocked(rules.lot_may_be_opened(lot, opened_on, localdate(act.at)))
        return entry.change(lot, opened_on=opened_on)


def close_lot(*, act: Act, lot: Lot, state: str) -> Lot:
    """Close a lot to use: used up, or returned to the supplier."""
    with Entry(act, "close lot") as entry:
        entry.subject = lot.number
        lot.refresh_from_db()
        refuse_if_blocked(rules.lot_may_be_closed(lot, state))
        return entry.change(lot, state=state)
