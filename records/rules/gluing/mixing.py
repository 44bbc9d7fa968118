"""What is found when glue is mixed: it warns, and only the impossible blocks.

Impossible is a figure no scale or clock can show, a lot that was never accepted or
was refused, and a material that the maker's sheet is not for.
"""

import datetime as dt
from decimal import Decimal

from django.utils.timezone import localdate

from records.models import Lot, Mix
from records.queries.gluing.times import GlueTables
from records.queries.reach.holds import holds_for
from records.rules.finding import Finding, warning
from records.rules.holds import hold_sentence
from records.rules.moments import already_happened
from records.spelling.moments import day as spell_day
from records.spelling.numbers import plain
from records.spelling.quantities import in_unit

COLDEST_C, HOTTEST_C = Decimal(-10), Decimal(60)
"""A glue room outside these is a slip of the pen (own choice)."""
MOST_TIMES_THE_RESIN = 10
"""More hardener or water than this is a slip of the pen (own choice)."""


def mix_is_possible(mix: Mix, now: dt.datetime) -> list[Finding]:
    """Say what can't be true of a mix that is about to be written."""
    return (
        already_happened(mix.mixed_at, now, "mixed_at")
        + _lots_suit_sheet(mix)
        + _masses_are_possible(mix)
        + _room_is_possible(mix)
        + [f for lot, field in lots_of(mix) for f in _lot_was_at_hand(lot, mix, field)]
    )


def mix_as_the_sheet_asks(
    mix: Mix, tables: GlueTables, newest_sheet: int
) -> list[Finding]:
    """Warn of all in a possible mix that is not as the maker's sheet asks."""
    lots = lots_of(mix)
    return (
        [f for lot, field in lots for f in lot_in_date(lot, mix.mixed_at, field)]
        + _sheet_in_force(mix, newest_sheet)
        + _ratio_in_sheet(mix)
        + temperature_in_table(tables, mix.temperature_c)
    )


def lots_of(mix: Mix) -> list[tuple[Lot, str]]:
    """Give the lots of a mix, each with its field."""
    lots = [(mix.resin_lot, "resin_lot")]
    if mix.hardener_lot is not None:
        lots.append((mix.hardener_lot, "hardener_lot"))
    return lots


def lot_in_date(lot: Lot, mixed_at: dt.datetime, field: str) -> list[Finding]:
    """Warn of a date that has passed or nobody knows, and of an unknown number.

    The mix is flagged, and somebody with authority decides later.
    """
    findings = []
    if lot.state == Lot.State.USED_UP:
        findings.append(f"Lot {lot} is in the book as used up.")
    if lot.expires_on is None:
        findings.append(f"Nobody knows until when lot {lot} is usable.")
    elif lot.expires_on < localdate(mixed_at):
        findings.append(
            f"Lot {lot} was usable until {spell_day(lot.expires_on)}. "
            "Take a fresh one, or have a coupon and a decision for this glue."
        )
    if not lot.supplier_lot:
        findings.append(f"The number on the container of lot {lot} is not known.")
    return [warning(sentence, field) for sentence in findings]


def lots_held(mix: Mix) -> list[Finding]:
    """Warn of every hold that stands on a lot of the mix."""
    lots = {lot.pk: lot for lot, _ in lots_of(mix)}
    return [
        warning(hold_sentence(hold, lots[pk]))
        for pk, holds in holds_for("lot", list(lots)).items()
        for hold in holds
    ]


def temperature_in_table(tables: GlueTables, temperature_c: Decimal) -> list[Finding]:
    """Warn where the maker's tables say nothing at this temperature."""
    times = tables.at(float(temperature_c))
    findings = list(times.unknown)
    if times.working_life_s is None and not findings:
        findings = ["The sheet gives no working life."]
    return [warning(sentence, "temperature_c") for sentence in findings]


def _lots_suit_sheet(mix: Mix) -> list[Finding]:
    sheet, resin, hardener = mix.sheet, mix.resin_lot, mix.hardener_lot
    findings = []
    if resin.material_id != sheet.adhesive_id:
        findings.append(_not_for(resin, sheet.adhesive.name, "resin_lot"))
    if sheet.hardener is None and hardener is not None:
        sentence = f"{sheet.adhesive} takes no hardener on this sheet. Leave it empty."
        findings.append(Finding(sentence, "hardener_lot"))
    elif sheet.hardener is not None and hardener is None:
        findings.append(Finding(f"Name the lot of {sheet.hardener}.", "hardener_lot"))
    elif hardener is not None and hardener.material_id != sheet.hardener_id:
        findings.append(_not_for(hardener, str(sheet.hardener), "hardener_lot"))
    return findings


def _not_for(lot: Lot, wanted: str, field: str) -> Finding:
    return Finding(f"Lot {lot} is {lot.material}; this sheet is for {wanted}.", field)


def _lot_was_at_hand(lot: Lot, mix: Mix, field: str) -> list[Finding]:
    if lot.state not in {Lot.State.ACCEPTED, Lot.State.USED_UP}:
        return [
            Finding(
                f"Lot {lot} is {lot.get_state_display()}. "
                "Glue is mixed from accepted lots only.",
                field,
            )
        ]
    if localdate(mix.mixed_at) < lot.received_on:
        came = spell_day(lot.received_on)
        return [Finding(f"Lot {lot} came on {came}, after this mix.", field)]
    return []


def _masses_are_possible(mix: Mix) -> list[Finding]:
    findings = []
    if mix.resin_g <= 0:
        findings.append(Finding("The resin weighs more than 0 g.", "resin_g"))
    if mix.hardener_g < 0:
        sentence = "Hardener or water can't weigh less than 0 g."
        findings.append(Finding(sentence, "hardener_g"))
    if 0 < mix.resin_g * MOST_TIMES_THE_RESIN < mix.hardener_g:
        sentence = (
            f"{in_unit(mix.hardener_g, 'g')} is more than {MOST_TIMES_THE_RESIN} times "
            "the resin. Check both figures."
        )
        findings.append(Finding(sentence, "hardener_g"))
    return findings


def _room_is_possible(mix: Mix) -> list[Finding]:
    findings = []
    if not COLDEST_C <= mix.temperature_c <= HOTTEST_C:
        findings.append(
            Finding(
                f"{in_unit(mix.temperature_c, 'degC')} is not the temperature of "
                "a glue "
                f"room. Enter it in °C, {plain(COLDEST_C)} to {plain(HOTTEST_C)}.",
                "temperature_c",
            )
        )
    if mix.humidity_pct is not None and not 0 <= mix.humidity_pct <= 100:  # noqa: PLR2004
        sentence = "Relative humidity lies between 0 and 100 %."
        findings.append(Finding(sentence, "humidity_pct"))
    if mix.stirred_min is not None and mix.stirred_min < 0:
        sentence = "Nobody stirs for less than 0 minutes."
        findings.append(Finding(sentence, "stirred_min"))
    return findings


def _sheet_in_force(mix: Mix, newest: int) -> list[Finding]:
    sheet = mix.sheet
    if sheet.revision >= newest:
        return []
    sentence = (
        f"Sheet {sheet.revision} of {sheet.adhesive} is not the newest: "
        f"sheet {newest} is in the book."
    )
    return [warning(sentence, "sheet")]


def _ratio_in_sheet(mix: Mix) -> list[Finding]:
    low, high = mix.sheet.parts_low, mix.sheet.parts_high
    if low * mix.resin_g <= mix.hardener_g * 100 <= high * mix.resin_g:
        return []
    parts = plain(round(100 * mix.hardener_g / mix.resin_g, 1))
    allowed = plain(low) if low == high else f"{plain(low)} to {plain(high)}"
    sentence = (
        f"{parts} parts of hardener or water to 100 of resin; the sheet asks for "
        f"{allowed}. Discard this mix if no glue of it is on the wood yet."
    )
    return [warning(sentence, "hardener_g")]
