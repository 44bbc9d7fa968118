"""What a lot's page shows: is it usable, what was made of it, what comes next."""

import datetime as dt
from collections.abc import Mapping
from typing import Any

from django.db.models import Model
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString

from records.models import GlueSheet, Lot, LotCheck, Material, MaterialUse
from records.queries.boards import standing_readings
from records.queries.builds.progress import Progress, StageState, progress_of
from records.queries.files import attached_to
from records.queries.lots import (
    boards_of,
    checks_of,
    mixes_of,
    sheets_of,
    uses_of,
)
from records.queries.subjects import called
from records.rules.boards import lot_gives_boards
from records.rules.finding import Finding, warning
from records.rules.fitness import GLUE_KINDS, lot_usable, lot_usable_for_glue
from records.rules.gates.stage import next_stage
from records.rules.holds import held
from records.spelling.moments import day, when
from records.spelling.verdicts import Verdict
from records.web.lots.tables import UNKNOWN
from records.web.shared.evidence import photo_lines, reading_lines, stage_lines
from records.web.shared.pages import log_page, page_of, usual_actions
from records.web.shared.parts import Action, Fact
from records.web.shared.steps import stage_step, stage_verdict

MOST_ROWS = 25
IN_CONTAINERS = (*GLUE_KINDS, Material.Kind.FINISH)
STATE_VERDICTS = {
    Lot.State.WAITING: "waiting",
    Lot.State.REFUSED: "void",
    Lot.State.RETURNED: "void",
    Lot.State.USED_UP: "void",
}


def lot_page(
    lot: Lot, today: dt.date, disabled_reason: Mapping[str, str]
) -> dict[str, Any]:
    """Gather the page of a lot.

    `disabled_reason` says why not to "accept" or to "write".
    """
    holds = held(lot)
    unfit = _fitness(lot, today)
    timber = lot.material.kind == Material.Kind.TIMBER
    glue = lot.material.kind in GLUE_KINDS
    sheets = _sheets(lot)
    no_sheet = _without_sheet(lot, sheets)
    progress = progress_of(lot) if timber else None
    stage = next_stage(progress, lot) if progress else None
    boards = list(boards_of(lot)[: MOST_ROWS + 1]) if timber else []
    return {
        "lot": lot,
        "timber": timber,
        "glue": glue,
        "verdict": verdict_of(lot, unfit, holds, stage),
        "findings": [*holds, *unfit, *no_sheet],
        "step": _next(lot, progress, disabled_reason, boards=bool(boards)),
        "facts": _facts(lot) + [("Maker's sheet", _sheet_link(s)) for s in sheets],
        "boards": boards[:MOST_ROWS],
        "more_boards": len(boards) > MOST_ROWS,
        "mixes": list(mixes_of(lot)[:MOST_ROWS]) if glue else [],
        "uses": [] if timber else [_use_line(u) for u in uses_of(lot)[:MOST_ROWS]],
        "checks": [_check_line(check) for check in checks_of(lot)],
        "readings": reading_lines(standing_readings("lot", lot.pk)),
        "photos": photo_lines(attached_to("lot", lot.pk)),
        "stages": stage_lines(progress, lot) if progress else [],
        "actions": _actions(lot, disabled_reason, timber=timber),
    }


def verdict_of(
    lot: Lot, findings: list[Finding], holds: list[Finding], stage: StageState | None
) -> Verdict:
    """Give shape, word and detail for whether the lot is all right.

    `stage` is the first stage of it that nobody has signed, if it has one.
    """
    if holds:
        return Verdict("hold", "on hold", "")
    if lot.state in STATE_VERDICTS:
        return Verdict(
            STATE_VERDICTS[Lot.State(lot.state)], lot.get_state_display(), ""
        )
    if any(f.blocks for f in findings):
        return Verdict("outside", "not usable", "")
    if stage is not None:
        return stage_verdict(stage)
    return Verdict("ok", "usable", "flagged" if findings else "")


def _sheets(lot: Lot) -> list[GlueSheet]:
    """Give the sheet in force of a lot of adhesive, if the shop copied one."""
    adhesive = lot.material.kind == Material.Kind.ADHESIVE
    return sheets_of(lot.material_id)[:1] if adhesive else []


def _without_sheet(lot: Lot, sheets: list[GlueSheet]) -> list[Finding]:
    if sheets or lot.material.kind != Material.Kind.ADHESIVE:
        return []
    return [
        warning(
            f"The maker's sheet of {lot.material} is not in the book. "
            "Copy it before glue is mixed of it."
        )
    ]


def _sheet_link(sheet: GlueSheet) -> SafeString:
    page = reverse("lots:sheet", args=[sheet.pk])
    return format_html('<a href="{}">sheet {}</a>', page, sheet.revision)


def _fitness(lot: Lot, today: dt.date) -> list[Finding]:
    glue = lot.material.kind in GLUE_KINDS
    return lot_usable_for_glue(lot, today) if glue else lot_usable(lot, today)


def _next(
    lot: Lot,
    progress: Progress | None,
    disabled_reason: Mapping[str, str],
    *,
    boards: bool,
) -> Action | None:
    if lot.state == Lot.State.WAITING:
        page = reverse("lots:check", args=[lot.number])
        return Action("Receiving check", page, disabled_reason["accept"])
    if lot.state != Lot.State.ACCEPTED:
        return None
    if progress is not None:
        return _next_of_timber(lot, progress, disabled_reason, boards=boards)
    if lot.opened_on or lot.material.kind not in IN_CONTAINERS:
        return None
    return Action(
        "Note it opened",
        reverse("lots:open", args=[lot.number]),
        disabled_reason["write"],
    )


def _next_of_timber(
    lot: Lot, progress: Progress, disabled_reason: Mapping[str, str], *, boards: bool
) -> Action | None:
    if not boards:
        return Action("Add boards", boards_page(lot), disabled_reason["write"])
    stage = next_stage(progress, lot)
    return stage_step(stage, lot, disabled_reason["write"]) if stage else None


def boards_page(lot: Lot) -> str:
    """Give the path where boards of a lot are added."""
    return f"{reverse('boards:add')}?lot={lot.number}"


def _facts(lot: Lot) -> list[Fact]:
    document = lot.get_document_display()
    reference = lot.document_reference
    days = (("Usable until", lot.expires_on), ("Opened on", lot.opened_on))
    words = (("How much", lot.quantity), ("Kept", lot.storage))
    return [
        Fact("Material", f"{lot.material} ({lot.material.get_kind_display().lower()})"),
        Fact("Supplier", str(lot.supplier) if lot.supplier else UNKNOWN),
        Fact("Lot number on it", lot.supplier_lot or UNKNOWN),
        Fact("Received on", day(lot.received_on)),
        *(Fact(label, day(on)) for label, on in days if on),
        *(Fact(label, text) for label, text in words if text),
        Fact(
            "Document (EN 10204)", f"{document}, {reference}" if reference else document
        ),
        Fact("Written by", f"{lot.written_by.name}, {when(lot.written_at)}"),
    ]


def _check_line(check: LotCheck) -> dict[str, str]:
    return {
        "found": check.found,
        "about": f"{when(check.happened_at)}, {check.written_by.name}",
        "verdict": "ok" if check.accepted else "void",
        "word": "accepted" if check.accepted else "refused",
    }


def _use_line(use: MaterialUse) -> dict[str, str]:
    thing: Model = use.propeller or use.blank  # type: ignore[assignment]
    return {
        "called": called(thing),
        "url": page_of(thing),
        "about": f"{use.place}, {when(use.happened_at)}, {use.written_by.name}",
    }


def _actions(
    lot: Lot, disabled_reason: Mapping[str, str], *, timber: bool
) -> list[Action]:
    args, write = [lot.number], disabled_reason["write"]
    actions = [Action("Log a reading", log_page(lot), write)]
    if timber:
        none = " ".join(f.sentence for f in lot_gives_boards(lot))
        actions.append(Action("Add boards", boards_page(lot), write or none))
    actions += [
        Action(
            "Receiving check",
            reverse("lots:check", args=args),
            disabled_reason["accept"],
        ),
        *usual_actions(lot, write),
    ]
    if lot.state not in {Lot.State.USED_UP, Lot.State.RETURNED}:
        actions.append(Action("Close the lot", reverse("lots:close", args=args), write))
    return actions
