"""Long work is told as it goes, and not line by line."""

from records.management import progress
from records.management.progress import Teller


def test_each_kind_is_told_at_once_and_its_counts_once_a_second(monkeypatch):
    times = iter([10, 10.1, 10.2, 10.3, 11.4, 11.5])
    monkeypatch.setattr(progress.time, "monotonic", lambda: next(times))
    told = []
    tell = Teller(told.append)
    for line in ("packing", "adding 1", "adding 2", "adding 3", "adding 4", "adding 5"):
        tell(line)
    assert told == ["packing", "adding 1", "adding 4"]
