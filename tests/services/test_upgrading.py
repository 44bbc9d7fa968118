"""An older copy is brought up to this program; a newer one is not touched."""

from contextlib import contextmanager

import pytest

from records.services import upgrading
from records.services.refusal import Refusal
from records.services.upgrading import bring_up_to_date


class Stub:
    """A copy to which some versions were applied."""

    def __init__(self, *versions):
        self.versions = set(versions)

    @contextmanager
    def opened(self):
        yield self

    def migrations(self):
        return self.versions


@pytest.fixture
def known(monkeypatch):
    class Loader:
        def __init__(self, _):
            names = [("records", "0001_initial"), ("records", "0002_more")]
            self.disk_migrations = dict.fromkeys([*names, ("sessions", "0009_x")])

    monkeypatch.setattr(upgrading, "MigrationLoader", Loader)


@pytest.fixture
def ran(monkeypatch):
    seen = []
    monkeypatch.setattr(
        upgrading, "run_on", lambda _, __, *command: seen.append(command)
    )
    return seen


def told(_):
    return


def test_a_copy_of_this_version_is_left_alone(known, ran):
    bring_up_to_date(Stub("0001_initial", "0002_more"), told)
    assert ran == []


def test_an_older_copy_is_migrated(known, ran):
    bring_up_to_date(Stub("0001_initial"), told)
    assert ran == [("migrate", "--no-input")]


def test_a_newer_copy_asks_for_a_newer_program(known, ran):
    with pytest.raises(Refusal, match=r"newer version of this program \(0003_later\)"):
        bring_up_to_date(Stub("0001_initial", "0002_more", "0003_later"), told)
    assert ran == []
