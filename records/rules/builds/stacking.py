"""May this lamination lie here, and is the stack whole? Asked before any glue."""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence

from records.models import Blank, Board, Lamination, Lot
from records.rules.finding import Finding, warning
from records.spelling.quantities import in_unit

PAIR_DIFFERENCE_PCT = 3
"""Most difference between the masses of a pair: common practice, no source."""


def may_be_laid(
    lamination: Lamination, blank: Blank, allowed: Mapping[int, str]
) -> list[Finding]:
    """Say why a lamination may not lie in a blank; `allowed` holds its species.

    The lamination comes with its board, lot, material and blank.
    """
    findings = []
    if lamination.state == Lamination.State.VOID:
        findings.append(
            f"{lamination.number} is void ({lamination.void_reason}). Lay another one."
        )
    if lamination.blank_id not in {None, blank.pk}:
        findings.append(
            f"{lamination.number} lies in blank {lamination.blank}. "
            "A lamination is in one blank at most: take it out there first."
        )
    findings += _wood_not_usable(lamination)
    lot = lamination.board.lot
    if lot.material_id not in allowed:
        names = ", ".join(allowed.values()) or "none"
        findings.append(
            f"{lamination.number} is of {lot.material.name}. "
            f"{blank.revision.design.model} {blank.revision} allows: {names}."
        )
    return [Finding(sentence, "order") for sentence in findings]


def may_all_be_laid(
    laminations: Iterable[Lamination], blank: Blank, allowed: Mapping[int, str]
) -> list[Finding]:
    """Say why any of these laminations may not lie in a blank."""
    return [f for x in laminations for f in may_be_laid(x, blank, allowed)]


def _wood_not_usable(lamination: Lamination) -> list[str]:
    board, lot = lamination.board, lamination.board.lot
    sentences = []
    if board.state == Board.State.WAITING:
        sentences.append(
            f"Board {board.number} of {lamination.number} waits for its inspection."
        )
    if board.state == Board.State.REFUSED:
        sentences.append(f"Board {board.number} of {lamination.number} was refused.")
    if lot.state not in {Lot.State.ACCEPTED, Lot.State.USED_UP}:
        sentences.append(
            f"Lot {lot.number} of {lamination.number} is {lot.get_state_display()}. "
            "Only wood of an accepted lot is laid."
        )
    return sentences


def order_fits(blank: Blank, numbers: Sequence[str]) -> list[Finding]:
    """Say what is wrong with a list of laminations, whatever they are."""
    findings = [
        Finding(f"{number} is in the list {count} times. Name it once.", "order")
        for number, count in Counter(numbers).items()
        if count > 1
    ]
    most = blank.revision.laminations
    if len(numbers) > most:
        findings.append(
            Finding(
                f"{len(numbers)} laminations are too many: "
                f"{blank.revision.design.model} {blank.revision} has {most}.",
                "order",
            )
        )
    return findings


def may_be_restacked(blank: Blank) -> list[Finding]:
    """Say why the whole stack can't be laid anew."""
    if blank.state == Blank.State.STACKING:
        return []
    return [
        Finding(
            f"Blank {blank.number} is {blank.get_state_display()}: its order is fixed."
        )
    ]


def place_is_in(blank: Blank, position: int) -> list[Finding]:
    """Say why there is no such place in a stack."""
    last = blank.revision.laminations
    if 1 <= position <= last:
        return []
    sentence = f"Place {position} is not in this stack; it has places 1 to {last}."
    return [Finding(sentence, "position")]


def place_can_be_filled(blank: Blank, position: int) -> list[Finding]:
    """Say why nothing is laid in an empty place.

    What lies there in truth may be written down late, whatever glue is on it.
    """
    if blank.state == Blank.State.SCRAPPED:
        return [Finding(f"Blank {blank} is scrapped.")]
    return place_is_in(blank, position)


def place_is_open(
    blank: Blank, position: int, joints_closed: Collection[int]
) -> list[Finding]:
    """Say why the lamination in one place can't be changed: glue is on it."""
    if blank.state not in {Blank.State.STACKING, Blank.State.GLUING}:
        return may_be_restacked(blank)
    glued = sorted({position - 1, position} & set(joints_closed))
    return place_is_in(blank, position) + [
        Finding(
            f"Joint {joint} beside place {position} is closed. "
            "Open a deviation if the lamination must come out.",
            "position",
        )
        for joint in glued
    ]


def stack_is_whole(
    blank: Blank, stack: Sequence[Lamination], allowed: Mapping[int, str]
) -> list[Finding]:
    """Say what is missing or wrong in the stack before glue-up begins."""
    taken = {lamination.position for lamination in stack}
    empty = [p for p in range(1, blank.revision.laminations + 1) if p not in taken]
    findings = []
    if empty:
        places = ", ".join(str(p) for p in empty)
        findings.append(
            Finding(
                f"{len(stack)} of {blank.revision.laminations} laminations are laid; "
                f"nothing lies in place {places}."
            )
        )
    return findings + may_all_be_laid(stack, blank, allowed)


def pairs_weigh_alike(stack: Sequence[Lamination]) -> list[Finding]:
    """Warn where the two laminations of a pair, outermost inwards, differ in mass."""
    findings = []
    for lower, upper in zip(stack, reversed(stack), strict=True):
        if lower.position is None or upper.position is None:
            continue
        if lower.position >= upper.position:
            break
        if lower.mass_g is None or upper.mass_g is None:
            continue
        lighter, heavier = sorted((lower.mass_g, upper.mass_g))
        if heavier > lighter * (100 + PAIR_DIFFERENCE_PCT) / 100:
            findings.append(
                warning(
                    f"{lower.number} ({in_unit(lower.mass_g, 'g')}) and {upper.number} "
                    f"({in_unit(upper.mass_g, 'g')}) are a pair and differ by "
                    "more than "
                    f"{in_unit(PAIR_DIFFERENCE_PCT, '%')}."
                )
            )
    return findings
