"""A verdict keeps what was flagged beside it."""

from records.documents.export_table import with_flags


def test_flags_follow_the_verdict():
    assert with_flags("inside", "") == "inside"
    assert with_flags("inside", "Gauge overdue") == "inside. Gauge overdue"
