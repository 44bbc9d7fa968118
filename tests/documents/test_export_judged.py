"""What was read, signed and decided stands in plain tables, the bad with the good."""

import datetime as dt

import pytest

from records.documents import export_judged as judged
from records.documents.dossiers import dossiers
from records.documents.export_table import Linked
from records.models import MaterialChange, Withdrawal
from tests import factories
from tests.factories import NOON
from tests.finished import built, made  # noqa: F401

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory(serial="T-1")


def last():
    return list(dossiers())[-1]


def column(section, name):
    return [row[section.columns.index(name)] for row in section.rows]


def place(sha256, media_type):
    return f"files/{sha256}"


def test_every_reading_is_there(made):  # noqa: F811
    one = next(dossiers())
    section = judged.readings(one)
    assert len(section.rows) == len(one.written.readings) > 50
    assert all(len(row) == len(section.columns) for row in section.rows)


def test_a_reading_says_figure_limit_verdict_and_place(propeller):
    station = factories.StationFactory(
        revision=propeller.revision,
        radius_mm=700,
        angle_deg=15,
        chord_mm=120,
        thickness_mm=14,
        blank_width_mm=120,
    )
    factories.ReadingFactory(
        propeller=propeller,
        entered="0.6",
        unit="deg",
        blade=2,
        station=station,
        low="-0.5",
        high="0.5",
        judged_unit="deg",
        limit_source="drawing",
        verdict="outside",
        flags="Gauge is due again.",
    )
    section = judged.readings(last())
    assert column(section, "Figure") == ["0.6°"]
    assert column(section, "Where") == ["blade 2 at 700\xa0mm"]
    assert column(section, "Limit") == ["within 0.5° either way (drawing)"]
    assert column(section, "Verdict") == ["OUTSIDE. Gauge is due again."]


def test_a_correction_stands_beside_what_it_corrects(propeller):
    first = factories.ReadingFactory(propeller=propeller, entered="1.6")
    factories.ReadingFactory(
        propeller=propeller,
        characteristic=first.characteristic,
        entered="1.1",
        corrects=first,
        reason="Misread",
    )
    section = judged.readings(last())
    assert column(section, "Figure") == [
        "1.6\xa0mm (0.063\xa0in)",
        "1.1\xa0mm (0.043\xa0in)",
    ]
    assert "instead of an earlier one: Misread" in column(section, "Verdict")[1]


def test_a_late_entry_shows_as_one(propeller):
    factories.ReadingFactory(
        propeller=propeller, happened_at=NOON - dt.timedelta(days=2)
    )
    assert ", written 2 Mar 2026" in column(judged.readings(last()), "Read")[0]


def test_papers_lead_to_their_files_and_say_whether_they_stand(propeller, owner):
    first = factories.ConformityRecordFactory(propeller=propeller, number="CR1")
    second = factories.ConformityRecordFactory(
        propeller=propeller, number="CR2", issue=2, replaces=first, reason="Repaired"
    )
    Withdrawal.objects.create(
        record=second,
        happened_at=NOON,
        reason="Lot recalled",
        written_at=NOON,
        written_by=owner,
    )
    section = judged.papers(last(), place)
    links = column(section, "Number (PDF)")
    assert Linked("CR1", f"files/{first.pdf.sha256}") in links
    assert set(column(section, "Stands")) == {
        "withdrawn: Lot recalled",
        "replaced by CR2",
    }


def test_changes_and_service_are_told_in_words(propeller, owner):
    MaterialChange.objects.create(
        propeller=propeller,
        happened_at=NOON,
        what="removed",
        place="tip of blade 2",
        reason="Nick",
        written_at=NOON,
        written_by=owner,
    )
    keeper = factories.OwnerFactory(name="A keeper")
    propeller.ownerships.create(
        owner=keeper, happened_at=NOON, written_at=NOON, written_by=owner
    )
    propeller.service_events.create(
        kind="work",
        happened_at=NOON,
        hours="120.5",
        findings="Edge renewed",
        written_at=NOON,
        written_by=owner,
    )
    assert judged.changes(last()).rows[0][1:] == [
        "material removed, tip of blade 2",
        "Nick",
    ]
    told = column(judged.service(last()), "What")
    assert told == ["handed over to A keeper", "work done, 120.5\xa0h run"]


def test_photos_of_every_part_lead_to_their_files(propeller):
    piece = factories.LaminationFactory(blank=propeller.blank, position=1)
    photo = factories.AttachmentFactory(board=piece.board, caption="Knot")
    (link,) = column(judged.photos(last(), place), "File")
    assert link == Linked("Knot", f"files/{photo.file.sha256}")
