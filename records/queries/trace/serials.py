"""Serials as a list that is exact: ranges only where every number between is in it."""

import re
from collections.abc import Iterable

_NUMBERED = re.compile(r"^(.*?)(\d+)$")


def ranges(serials: Iterable[str]) -> list[str]:
    """Join serials that follow each other into ranges, and leave the others single.

    >>> ranges(["2026-001", "2026-002", "2026-003", "2026-007"])
    ['2026-001 to 2026-003', '2026-007']
    """
    runs: list[list[str]] = []
    for serial in sorted(set(serials), key=_order):
        if runs and _follows(runs[-1][-1], serial):
            runs[-1].append(serial)
        else:
            runs.append([serial])
    return [text for run in runs for text in _spelled(run)]


def _spelled(run: list[str]) -> list[str]:
    """Spell a run as a range from three on: two are shorter as they are."""
    return [f"{run[0]} to {run[-1]}"] if len(run) > 2 else run  # noqa: PLR2004


def _order(serial: str) -> tuple[str, int, int]:
    start, number = _parts(serial)
    return start, len(number), int(number or 0)


def _follows(first: str, second: str) -> bool:
    start, number = _parts(first)
    other, next_number = _parts(second)
    if not number or not next_number:
        return False
    same = start == other and len(number) == len(next_number)
    return same and int(next_number) == int(number) + 1


def _parts(serial: str) -> tuple[str, str]:
    match = _NUMBERED.match(serial)
    return (match.group(1), match.group(2)) if match else (serial, "")
