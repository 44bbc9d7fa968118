"""Is it fit to be used: a lot, a board, a gauge? All that speaks against it."""

import datetime as dt

from records.models import Board, Calibration, Gauge, Lot, Material
from records.rules.finding import Finding, warning
from records.spelling.moments import day
from records.spelling.quantities import in_unit

GLUE_KINDS = (Material.Kind.ADHESIVE, Material.Kind.HARDENER)


def lot_usable(lot: Lot, on: dt.date) -> list[Finding]:
    """Say what speaks against using a lot on a day; nothing where nothing does.

    `lot.material` is read: select it with the lot.
    """
    findings = _lot_state(lot)
    if on < lot.received_on:
        findings.append(
            Finding(
                f"Lot {lot} was received on {day(lot.received_on)}, after {day(on)}."
            )
        )
    if lot.expires_on and lot.expires_on < on:
        findings.append(
            Finding(
                f"Lot {lot} was usable until {day(lot.expires_on)}. "
                "Take a fresh lot, or open a deviation before using it."
            )
        )
    if not lot.supplier_lot:
        findings.append(
            warning(f"The lot number on the container of lot {lot} is not known.")
        )
    return findings


def lot_usable_for_glue(lot: Lot, on: dt.date) -> list[Finding]:
    """Say what speaks against mixing glue of a lot on a day."""
    findings = lot_usable(lot, on)
    if lot.material.kind not in GLUE_KINDS:
        findings.append(
            Finding(f"Lot {lot} is {lot.material}, which is not a glue or hardener.")
        )
    elif lot.expires_on is None:
        findings.append(
            warning(f"No last day of use is recorded for lot {lot} of {lot.material}.")
        )
    return findings


def board_usable(board: Board) -> list[Finding]:
    """Say why no lamination may be sawn from a board.

    `board.lot` and its material are read: select them with the board.
    """
    findings = []
    if board.state != Board.State.USABLE:
        findings.append(
            Finding(f"Board {board} is {board.get_state_display()}{_then(board)}.")
        )
    return findings + _lot_state_of_a_board(board.lot)


def gauge_fit(
    gauge: Gauge, on: dt.date, calibration: Calibration | None
) -> list[Finding]:
    """Say why a gauge is not fit to read with on a day.

    `calibration` is its latest on or before that day, or None.
    """
    withdrawn = gauge.state == Gauge.State.WITHDRAWN
    sentence = f"Gauge {gauge.number} is withdrawn from service."
    return [Finding(sentence)] * withdrawn + calibration_holds(gauge, on, calibration)


def calibration_holds(
    gauge: Gauge, on: dt.date, calibration: Calibration | None
) -> list[Finding]:
    """Say why a gauge's calibration does not hold on a day, whatever its state."""
    if calibration is None:
        return [Finding(f"Gauge {gauge.number} has never been calibrated.")]
    findings = []
    if calibration.next_due_on < on:
        findings.append(
            Finding(
                f"Gauge {gauge.number} was due for calibration on "
                f"{day(calibration.next_due_on)}."
            )
        )
    if not calibration.left_inside:
        findings.append(
            Finding(
                f"Gauge {gauge.number} was left with an error of "
                f"{in_unit(calibration.as_left_error, calibration.unit)}; "
                f"{in_unit(calibration.permissible_error, calibration.unit)} is "
                "allowed."
            )
        )
    return findings


def _lot_state(lot: Lot) -> list[Finding]:
    if lot.state == Lot.State.ACCEPTED:
        return []
    return [Finding(f"Lot {lot} is {lot.get_state_display()}.")]


def _lot_state_of_a_board(lot: Lot) -> list[Finding]:
    """Let the boards of a lot be used when the lot itself is used up."""
    return [] if lot.state == Lot.State.USED_UP else _lot_state(lot)


def _then(board: Board) -> str:
    return ": inspect it" if board.state == Board.State.WAITING else ""
