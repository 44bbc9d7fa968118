"""Which fields of a conformity record would stay empty, though nothing is missing."""

from collections.abc import Iterator
from typing import Final

from records.models import Characteristic
from records.queries.builds.progress import Progress, StageState
from records.rules.finding import Finding, warning

Purpose: Final = Characteristic.Purpose
FIELDS: Final = {
    Purpose.MARKING: "4",
    Purpose.MASS: "11",
    Purpose.HUB_THICKNESS: "18",
    Purpose.BORE: "18",
    Purpose.TRACK: "23",
    Purpose.BALANCE_LEVEL: "24",
    Purpose.BALANCE_UPRIGHT: "24",
    Purpose.MOISTURE: "25",
    Purpose.LENGTH: "26",
}
"""What every record says of a propeller, and the number of its field."""


def empty_fields(progress: Progress) -> Iterator[Finding]:
    """Name the fields that no reading of a build fills.

    A reading that the route requires and nobody has taken is named at its stage.
    """
    states = [s for s in progress.states if s.kind == "propeller"]
    filled = {r.characteristic.purpose for state in states for r in state.current}
    required = {purpose for state in states for purpose in _required(state)}
    for purpose, field in FIELDS.items():
        if purpose not in filled | required:
            yield warning(
                f"Field {field} of the conformity record stays without "
                f"“{purpose.label}”: nothing that was read serves as that. "
                "The route says which reading does."
            )


def _required(state: StageState) -> set[str]:
    return {c.purpose for c in state.characteristics() if c.required}
