"""Can a build be run by this plan: everything that is wrong with it, at once."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from records.engineering.units import compare, dimension
from records.models import Characteristic, Limit, Stage
from records.models.routes import RANGES, READ_ON
from records.queries.routes.plans import Plan
from records.rules.figures import as_sentence
from records.rules.finding import Finding

Kind = Characteristic.Kind
Per = Characteristic.Per
Purpose = Characteristic.Purpose
MEASURES = {
    **dict.fromkeys((Purpose.MASS,), "mass"),
    **dict.fromkeys(
        (
            *(Purpose.LENGTH, Purpose.LENGTH_DIFFERENCE, Purpose.HUB_THICKNESS),
            *(Purpose.HUB_PARALLELISM, Purpose.BORE, Purpose.BOLT_HOLE),
            *(Purpose.BOLT_CIRCLE, Purpose.TIP, Purpose.TRACK),
            Purpose.HUB_AT_DISPATCH,
        ),
        "length",
    ),
    **dict.fromkeys((Purpose.BALANCE_LEVEL, Purpose.BALANCE_UPRIGHT), "unbalance"),
    **dict.fromkeys(
        (Purpose.MOISTURE, Purpose.HUMIDITY, Purpose.WOOD_FAILURE), "ratio"
    ),
    Purpose.TEMPERATURE: "temperature",
    Purpose.SHEAR_STRENGTH: "pressure",
}
"""The quantity that serves a purpose; one that is not here serves in words too."""
NOMINAL_UNIT = {"angle": "angle", "chord": "length", "thickness": "length"}


def plan_is_sound(stages: Plan, reason: str) -> list[Finding]:
    """Say all that is wrong with the stages of a route revision."""
    findings = (
        [] if reason.strip() else [Finding("Say what changed, and why.", "reason")]
    )
    if not stages:
        findings.append(Finding("A route has at least one stage."))
    twice = [c for c, n in Counter(s.get("code") for s in stages).items() if n > 1]
    findings += [Finding(f"Two stages have the code {code}.") for code in twice]
    for stage in stages:
        findings += [_about(stage, sentence) for sentence in _stage(stage)]
    return findings


def limit_is_sound(limit: Limit) -> list[Finding]:
    """Say what is wrong with a limit that is to be set."""
    characteristic = limit.characteristic
    findings = []
    if characteristic.nominal:
        findings.append(Finding(f"The drawing gives the limit of {characteristic}."))
    if characteristic.computed == Characteristic.Computed.GLUE_LINE_PRESSURE:
        findings.append(
            Finding("The press load brings this limit, from the sheet of its glue.")
        )
    if characteristic.kind != Kind.MEASURED:
        findings.append(Finding(f"{characteristic} is no figure: it has no limit."))
        return findings
    findings += sides_are_sound(limit.low, limit.high, limit.unit, characteristic.unit)
    if not limit.source:
        findings.append(Finding("Say where the limit comes from.", "source"))
    if not limit.reason:
        findings.append(Finding("Say why it is set.", "reason"))
    return findings


def sides_are_sound(
    low: Decimal | None, high: Decimal | None, unit: str, wanted: str
) -> list[Finding]:
    """Say what is wrong with the sides of a limit, or with their unit."""
    try:
        if dimension(unit) != dimension(wanted):
            sentence = f"{unit} is a unit of {dimension(unit)}, not of {wanted}."
            return [Finding(sentence, "unit")]
    except ValueError as error:
        return [Finding(as_sentence(error), "unit")]
    if low is None and high is None:
        return [Finding("Give the least, the most, or both.", "low")]
    if low is not None and high is not None and compare(low, unit, high, unit) > 0:
        return [Finding(f"The least, {low}, is more than the most, {high}.", "low")]
    return []


def same_as_in_force(newest: Limit | None, limit: Limit) -> list[Finding]:
    """Say that a limit changes nothing."""
    if newest is None or _sides(newest) != _sides(limit):
        return []
    return [Finding("This is the limit in force already.")]


def _sides(limit: Limit) -> tuple[Decimal | None, Decimal | None, str]:
    return limit.low, limit.high, limit.unit


def _stage(stage: dict[str, Any]) -> Iterator[str]:
    if not stage.get("code") or not stage.get("name"):
        yield "it needs a code and a name."
    if stage.get("scope") not in Stage.Scope.values:
        yield "say what is signed: a lot, a board, a blank or a propeller."
        return
    characteristics = stage.get("characteristics", [])
    by_code = {c.get("code"): c for c in characteristics}
    if len(by_code) < len(characteristics):
        yield "two of its readings have the same code."
    purposes = [p for c in characteristics if (p := c.get("purpose"))]
    for purpose in dict.fromkeys(p for p in purposes if purposes.count(p) > 1):
        yield f"two of its readings serve as {Purpose(purpose).label}."
    for one in characteristics:
        name = one.get("name") or one.get("code") or "a reading without a name"
        for sentence in _characteristic(one, stage["scope"], by_code):
            yield f"{name}: {sentence}"


def _characteristic(
    one: dict[str, Any], scope: str, by_code: dict[Any, dict[str, Any]]
) -> Iterator[str]:
    if not one.get("code") or not one.get("name"):
        yield "it needs a code and a name."
    if one.get("on") not in READ_ON[scope]:
        yield f"at this stage it is read on a {' or '.join(READ_ON[scope])}."
    if one.get("kind", Kind.MEASURED) == Kind.MEASURED:
        yield from _measured(one, by_code)
    elif one.get("limits"):
        yield "only a figure has a limit."
    yield from _per(one)


def _measured(one: dict[str, Any], by_code: dict[Any, dict[str, Any]]) -> Iterator[str]:
    try:
        quantity = dimension(one.get("unit") or "")
    except ValueError:
        yield "say in which unit it is measured."
        return
    low, high = one.get("plausible_low"), one.get("plausible_high")
    if low is not None and high is not None and low >= high:
        yield "the least that is taken is not under the most."
    yield from _serves(one, quantity)
    nominal = NOMINAL_UNIT.get(one.get("nominal") or "")
    if nominal and (nominal != quantity or one.get("per") != Per.STATION):
        yield f"from the drawing it is read by station, in a unit of {nominal}."
    if one.get("computed") in RANGES:
        yield from _range(one, by_code, quantity)
    for limit in one.get("limits", []):
        unit = limit.get("unit") or one["unit"]
        sides = limit.get("low"), limit.get("high")
        for finding in sides_are_sound(*sides, unit, one["unit"]):
            yield finding.sentence
        if not limit.get("source"):
            yield "say where its limit comes from."


def _serves(one: dict[str, Any], quantity: str) -> Iterator[str]:
    purpose = Purpose(one.get("purpose") or "")
    serves = MEASURES.get(purpose, quantity)
    if serves != quantity:
        yield f"what serves as {purpose.label} is a {serves}."


def _range(
    one: dict[str, Any], by_code: dict[Any, dict[str, Any]], quantity: str
) -> Iterator[str]:
    compared = by_code.get(one.get("compares"))
    if compared is None or compared.get("computed") in RANGES:
        yield "say which readings of this stage the difference is of."
        return
    try:
        other = dimension(compared.get("unit") or "")
    except ValueError:
        other = "nothing"
    if other != quantity:
        yield f"it compares readings of {other} in a unit of {quantity}."


def _per(one: dict[str, Any]) -> Iterator[str]:
    per, on = one.get("per", Per.ONCE), one.get("on")
    if per in {Per.BLADE, Per.STATION} and on != "propeller":
        yield "only a propeller is read by blade or station."
    if per == Per.JOINT and on != "blank":
        yield "only a blank is read by joint."


def _about(stage: dict[str, Any], sentence: str) -> Finding:
    name = stage.get("name") or stage.get("code") or "a stage without a name"
    return Finding(f"Stage {name}: {sentence}")
