"""Can this figure be what was read? Number, unit, and slips of the pen."""

from decimal import Decimal

from records.engineering import units
from records.models import Characteristic
from records.rules.finding import Finding
from records.spelling.numbers import plain

NEVER_NEGATIVE = {"mass", "area", "volume", "density", "spread", "power", "count"}
ANSWERS = {"yes": "yes", "y": "yes", "no": "no", "n": "no"}
LONGEST_NOTE = 200
Kind = Characteristic.Kind


def as_sentence(error: ValueError) -> str:
    """Spell what a calculation refused as a sentence."""
    text = str(error)
    return f"{text[:1].upper()}{text[1:]}."


def figure_is_possible(
    characteristic: Characteristic, entered: str, unit: str, measures: str = ""
) -> list[Finding]:
    """Say why what was entered can't be an answer to what is asked.

    `measures` names the quantity wanted where it is not that of the characteristic's
    own unit: a press with screws shows a torque.
    """
    if characteristic.kind == Kind.MEASURED:
        wanted = measures or units.dimension(characteristic.unit)
        return _measured(characteristic, entered, unit, wanted)
    if characteristic.kind == Kind.YES_NO:
        answer = entered.strip().lower() in ANSWERS
        return [] if answer else [Finding("Answer yes or no.", "entered")]
    if not entered.strip():
        return [Finding(f"Say in words: {characteristic.name}.", "entered")]
    if len(entered.strip()) > LONGEST_NOTE:
        return [Finding(f"Keep it within {LONGEST_NOTE} characters.", "entered")]
    return []


def unit_is_right(name: str, unit: str, wanted: str) -> list[Finding]:
    """Say why a figure in this unit is not of the quantity that is wanted."""
    choices = ", ".join(units.units_of(wanted))
    if not unit:
        return [Finding(f"Choose the unit: {choices}.", "unit")]
    try:
        given = units.dimension(unit)
    except ValueError as error:
        return [Finding(as_sentence(error), "unit")]
    if given == wanted:
        return []
    sentence = (
        f"{unit} is a unit of {given}, but {name} is read in a unit of {wanted}: "
        f"{choices}."
    )
    return [Finding(sentence, "unit")]


def _measured(c: Characteristic, entered: str, unit: str, wanted: str) -> list[Finding]:
    findings = unit_is_right(c.name, unit, wanted)
    try:
        value = units.parse_number(entered)
    except ValueError as error:
        return [Finding(as_sentence(error), "entered"), *findings]
    if not findings and value < 0 and wanted in NEVER_NEGATIVE:
        sentence = f"{entered} {unit}: a {wanted} can't be negative."
        findings = [Finding(sentence, "entered")]
    if findings or wanted != units.dimension(c.unit):
        return findings
    try:
        return _slips(c, value, unit)
    except ValueError as error:
        return [Finding(as_sentence(error), "entered")]


def _slips(c: Characteristic, value: Decimal, unit: str) -> list[Finding]:
    shown = f"{plain(value)} {unit}"
    high, low = c.plausible_high, c.plausible_low
    if high is not None and units.compare(value, unit, high, c.unit) > 0:
        most = f"{plain(high)} {c.unit}"
        return [
            Finding(
                f"{shown} is more than {most}, the most that is taken for "
                f"{c.name}. Check the decimal point and the unit.",
                "entered",
            )
        ]
    if low is not None and units.compare(value, unit, low, c.unit) < 0:
        least = f"{plain(low)} {c.unit}"
        return [
            Finding(
                f"{shown} is less than {least}, the least that is taken for "
                f"{c.name}. Check the decimal point and the unit.",
                "entered",
            )
        ]
    return []
