"""Does the chain hold against digests kept elsewhere? Every one it does not."""

import datetime as dt
import re
from collections.abc import Iterable, Iterator

from records import chain
from records.queries.anchors import Anchor, begins_an_entry, digests_at
from records.rules.integrity import Break

LEAST_DIGITS = 16
_DIGITS = re.compile(rf"[0-9a-f]{{{LEAST_DIGITS},64}}")
_LINE = re.compile(r"(\d{4}-\d\d-\d\d)\s+([1-9]\d{0,17})\s+([0-9a-fA-F]{64})")


def anchors_hold(lines: Iterable[str], *, name: str) -> Iterator[Break]:
    """Yield every anchor line that the chain does not hold against.

    Empty lines and lines that begin with # are passed over; any other that is no
    anchor is a break, for nothing can be proved with it.
    """
    anchors: list[tuple[int, Anchor]] = []
    for number, line in enumerate(lines, start=1):
        text = line.strip()
        if text and not text.startswith("#"):
            anchor = _read(text)
            if anchor is None:
                yield _no_anchor(name, number)
            else:
                anchors.append((number, anchor))
    standing = digests_at([anchor.sequence for _, anchor in anchors])
    for number, anchor in anchors:
        if standing.get(anchor.sequence) != anchor.digest:
            record = f"{name}, line {number}"
            yield Break(record, _why(anchor, standing.get(anchor.sequence)))


def heads_hold(heads: Iterable[str]) -> Iterator[Break]:
    """Yield every digest, copied from a paper, that no entry of the chain has.

    At least the first 16 digits are needed, in groups or not, in either case.
    """
    asked = {head: "".join(head.split()).lower() for head in heads}
    fit = {head: spelled for head, spelled in asked.items() if _is_fit(spelled)}
    known = [chain.GENESIS, *begins_an_entry(fit.values())]
    for head, spelled in asked.items():
        if head not in fit:
            said = f"Copy at least {LEAST_DIGITS} digits of it, 0 to 9 and a to f."
            yield Break(f"head {head}", f"{head} is no digest. {said}")
        elif not any(digest.startswith(spelled) for digest in known):
            said = "the chain was rewritten, or its end was cut off."
            yield Break(f"head {head}", f"No entry has the digest {head}: {said}")


def _is_fit(spelled: str) -> bool:
    return _DIGITS.fullmatch(spelled) is not None


def _read(text: str) -> Anchor | None:
    match = _LINE.fullmatch(text)
    if match is None:
        return None
    try:
        on = dt.date.fromisoformat(match[1])
    except ValueError:
        return None
    return Anchor(on, int(match[2]), match[3].lower())


def _no_anchor(name: str, number: int) -> Break:
    return Break(
        f"{name}, line {number}",
        f"Line {number} of {name} is no anchor. A line has the day, the entry's number "
        "and its digest of 64 digits, with spaces between.",
    )


def _why(anchor: Anchor, standing: str | None) -> str:
    named = f"Entry {anchor.sequence}, kept on {anchor.on.isoformat()},"
    if standing is None:
        return f"{named} is not in the ledger: its end was cut off."
    said = "the chain was rewritten at this entry or before it"
    return f"{named} has another digest now: {said}."
