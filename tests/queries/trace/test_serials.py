"""Serial lists are exact: a directive once had to be replaced because its was not.

(rules-and-standards, section 0, finding 9.)
"""

import pytest

from records.queries.trace.serials import ranges


@pytest.mark.parametrize(
    ("serials", "spelled"),
    [
        ([], []),
        (["2026-001"], ["2026-001"]),
        (["2026-001", "2026-002"], ["2026-001", "2026-002"]),
        (["2026-003", "2026-001", "2026-002"], ["2026-001 to 2026-003"]),
        (
            ["2026-001", "2026-002", "2026-004", "2026-005", "2026-006"],
            ["2026-001", "2026-002", "2026-004 to 2026-006"],
        ),
        (["9", "10", "11", "12"], ["9", "10 to 12"]),
        (["2025-999", "2026-001", "2026-002"], ["2025-999", "2026-001", "2026-002"]),
        (["A7", "B8", "C9"], ["A7", "B8", "C9"]),
        (["MILL", "MILL-1"], ["MILL", "MILL-1"]),
        (["2026-007", "2026-007"], ["2026-007"]),
    ],
)
def test_only_whole_runs_become_ranges(serials, spelled):
    assert ranges(serials) == spelled
