"""The command that imports readings, as somebody at a shell meets it."""

import json

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from records.models import Reading
from tests import factories

pytestmark = pytest.mark.django_db
HEAD = "kind,number,stage,characteristic,entered,unit,happened_at"


@pytest.fixture
def file(shop, tmp_path):
    propeller = factories.PropellerFactory(serial="2026-001")
    stage = factories.StageFactory(revision=propeller.blank.route, code="hub")
    factories.CharacteristicFactory(stage=stage, code="bore")
    path = tmp_path / "readings.csv"

    def write(*lines):
        path.write_text("\n".join([HEAD, *lines]))
        return str(path)

    return write


GOOD = "propeller,2026-001,hub,bore,40.02,mm,2026-03-02 12:00"


def test_good_lines_are_counted(file, owner, capsys):
    call_command("import_readings", file(GOOD), by=owner.login)
    assert capsys.readouterr().out == "Readings written down: 1.\n"
    assert Reading.objects.get().written_by == owner


def test_json_is_sorted_and_names_each_reading(file, owner, capsys):
    call_command("import_readings", file(GOOD), by=owner.login, json=True)
    facts = json.loads(capsys.readouterr().out)
    assert facts["imported"] == 1
    assert facts["problems"] == []
    [reading] = facts["readings"]
    assert (reading["entered"], reading["verdict"]) == ("40.02", "no_limit")


def test_bad_lines_end_in_an_error_and_nothing_is_kept(file, owner, capsys):
    path = file(GOOD, GOOD.replace("40.02", "wide"))
    with pytest.raises(CommandError, match=r"Line 3: .*not a number"):
        call_command("import_readings", path, by=owner.login)
    with pytest.raises(CommandError):
        call_command("import_readings", path, by=owner.login, json=True)
    facts = json.loads(capsys.readouterr().out)
    assert facts["imported"] == 0
    assert len(facts["problems"]) == 1
    assert not Reading.objects.exists()


def test_a_reader_writes_nothing(file):
    reader = factories.PersonFactory(role="reader")
    with pytest.raises(CommandError, match="Nobody who may write"):
        call_command("import_readings", file(GOOD), by=reader.login)


def test_a_file_that_can_not_be_read_is_named(owner, shop, tmp_path):
    with pytest.raises(CommandError, match="can't be read"):
        call_command("import_readings", str(tmp_path / "none.csv"), by=owner.login)
    path = tmp_path / "latin.csv"
    path.write_bytes(b"kind\xe9")
    with pytest.raises(CommandError, match="no text in UTF-8"):
        call_command("import_readings", str(path), by=owner.login)
