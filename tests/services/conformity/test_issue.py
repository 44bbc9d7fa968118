"""Records are numbered, frozen and sealed; replaced or withdrawn, never edited."""

import datetime as dt
import io
import json
from dataclasses import replace

import pytest
from django.db import IntegrityError, transaction
from PIL import Image

from records import chain
from records.documents.conformity.record import draw_conformity
from records.documents.genuine import examine
from records.documents.keys import make_keys
from records.documents.pdf import DrawingFailed
from records.models import (
    Authority,
    ConformityRecord,
    LedgerEntry,
    MaterialChange,
    Notice,
    NoticeSerial,
    Tag,
)
from records.queries.conformity.register import record_in_force
from records.queries.files import read_kept
from records.services.conformity import issue as service
from records.services.conformity.issue import issue_conformity, withdraw_conformity
from records.services.conformity.release import release_propeller
from records.services.files import attach_file
from records.services.refusal import AlreadyDone, Refusal
from records.web.shared.uploads import Upload
from tests import factories, finished

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made
HOUR = dt.timedelta(hours=1)


@pytest.fixture
def keys(settings, made):
    return make_keys(settings.DATA, "Test Airscrew Works", made.act.at)


@pytest.fixture
def photo():
    """A small picture, as it is sent."""
    file = io.BytesIO()
    Image.new("RGB", (320, 200), "#c07030").save(file, "JPEG")
    return Upload("stamp.jpg", file.getvalue())


@pytest.fixture
def released(made, keys):
    release_propeller(act=made.act, propeller=made.propeller)
    return made.propeller


@pytest.fixture
def issue(made, released):
    def call(hours=1, **changes):
        act = replace(made.act, at=made.act.at + hours * HOUR)
        return issue_conformity(act=act, propeller=released, **changes)

    return call


def test_the_paper_the_facts_and_the_seal_belong_together(issue, keys):
    record = issue(packing="Sealed bag")
    result = examine(read_kept(record.pdf), [keys.public])
    assert result.genuine
    assert result.facts_digest == record.facts_digest
    facts = json.loads(record.facts)
    assert chain.canonical(facts).decode() == record.facts
    assert facts["record"]["packing"] == "Sealed bag"
    assert facts["record"]["place"] == "Millbrook"


def test_the_paper_can_be_drawn_again_from_its_row(issue):
    record = issue()
    again = draw_conformity(json.loads(record.facts), record.seal)
    assert read_kept(record.pdf).startswith(again)  # the signature follows after


def test_the_ledgers_head_on_the_paper_is_an_entry_before_it(issue):
    record = issue()
    head = LedgerEntry.objects.get(digest=record.ledger_head)
    assert head.verb == "reserve record number"
    assert head.subject == record.number
    assert json.loads(record.facts)["ledger"]["sequence"] == head.sequence


def test_the_propeller_gets_its_tag_with_the_record(issue, released):
    record = issue()
    code = Tag.objects.get(propeller=released).code
    assert json.loads(record.facts)["tag"]["code"] == code


def test_a_new_issue_replaces_the_old_one_and_says_why(issue, released):
    first = issue()
    with pytest.raises(Refusal, match="Say why it is issued again"):
        issue(hours=2)
    second = issue(hours=3, reason="Paper lost")
    assert (second.issue, second.replaces) == (2, first)
    assert second.number != first.number
    assert record_in_force(released) == second
    old = ConformityRecord.objects.get(pk=first.pk)
    assert old.facts == first.facts
    assert json.loads(second.facts)["record"]["replaces"]["reason"] == "Paper lost"


def test_a_record_is_withdrawn_with_a_reason_and_no_other_stands(issue, released, made):
    record = issue()
    act = replace(made.act, at=made.act.at + 2 * HOUR)
    withdraw_conformity(act=act, record=record, reason="Wrong mass", happened_at=act.at)
    assert record_in_force(released) is None
    with pytest.raises(Refusal, match="withdrawn already"):
        withdraw_conformity(act=act, record=record, reason="x", happened_at=act.at)


def test_a_replaced_record_is_not_withdrawn(issue, made):
    first = issue()
    issue(hours=2, reason="Paper lost")
    act = replace(made.act, at=made.act.at + 3 * HOUR)
    with pytest.raises(Refusal, match="replaced by CR00002"):
        withdraw_conformity(act=act, record=first, reason="x", happened_at=act.at)


def test_an_issued_record_cannot_be_changed_in_the_database(issue):
    record = issue()
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        ConformityRecord.objects.filter(pk=record.pk).update(signer="Somebody")


def test_without_keys_it_is_refused_with_what_to_do(made, settings):
    release_propeller(act=made.act, propeller=made.propeller)
    with pytest.raises(Refusal, match="make new ones: manage"):
        issue_conformity(act=made.act, propeller=made.propeller)


def test_what_is_not_released_gets_no_record(made, keys):
    with pytest.raises(Refusal, match="is in work: release it first"):
        issue_conformity(act=made.act, propeller=made.propeller)


def test_without_authority_or_place_every_reason_comes_at_once(issue, made, shop):
    shop.place = ""
    shop.save()
    Authority.objects.filter(person=made.maker, act="release").update(
        until_on=dt.date(2020, 1, 1)
    )
    with pytest.raises(Refusal) as refused:
        issue()
    said = str(refused.value)
    assert "no authority" in said
    assert "Say at which place" in said


def test_a_hold_after_the_release_stops_the_record(issue, released):
    factories.HoldFactory(blank=released.blank, reason="a line looks open")
    with pytest.raises(Refusal, match="a line looks open"):
        issue()


def test_a_book_that_changed_while_it_was_drawn_refuses(issue, monkeypatch, made):
    """Somebody issues a notice for the serial while the paper is being drawn."""
    drawn = service.draw_conformity

    def slow(facts, seal, **photo):
        pen = {"written_at": made.act.at, "written_by": made.maker}
        notice = Notice.objects.create(
            number="N001", title="T", text="x", happened_at=made.act.at, **pen
        )
        NoticeSerial.objects.create(notice=notice, propeller=made.propeller, **pen)
        return drawn(facts, seal, **photo)

    monkeypatch.setattr(service, "draw_conformity", slow)
    with pytest.raises(Refusal, match="The book changed while record CR00001"):
        issue()
    assert not ConformityRecord.objects.exists()


def test_material_changed_while_it_was_drawn_refuses_too(issue, monkeypatch, made):
    drawn = service.draw_conformity

    def slow(facts, seal, **photo):
        MaterialChange.objects.create(
            propeller=made.propeller,
            what="removed",
            place="tip",
            reason="dent",
            happened_at=made.act.at,
            written_at=made.act.at,
            written_by=made.maker,
        )
        return drawn(facts, seal, **photo)

    monkeypatch.setattr(service, "draw_conformity", slow)
    with pytest.raises(Refusal, match="material removed afterwards"):
        issue()


def test_a_number_lost_to_a_failed_drawing_is_never_used_again(issue, monkeypatch):
    def fail(*_, **__):
        raise DrawingFailed("The PDF can't be drawn: the system library is missing.")

    with monkeypatch.context() as patch:
        patch.setattr(service, "draw_conformity", fail)
        with pytest.raises(Refusal, match="library is missing"):
            issue()
    assert issue(hours=2).number == "CR00002"
    reserved = LedgerEntry.objects.filter(verb="reserve record number")
    assert [e.subject for e in reserved] == ["CR00001", "CR00002"]


def test_the_same_form_sent_twice_issues_one_record(made, released):
    act = replace(
        made.act, at=made.act.at + HOUR, form_key="1b1f5a2c-0000-4000-8000-000000000001"
    )
    issue_conformity(act=act, propeller=released)
    with pytest.raises(AlreadyDone):
        issue_conformity(act=act, propeller=released, reason="again")
    assert ConformityRecord.objects.count() == 1
    assert LedgerEntry.objects.filter(verb="reserve record number").count() == 1


def test_the_photo_of_the_stamp_goes_into_facts_and_paper(issue, made, photo):
    stamp = attach_file(
        act=made.act,
        subject=made.propeller,
        photo=photo,
        caption="Stamp on the hub",
        happened_at=made.act.at,
    )
    record = issue(stamp=stamp)
    assert json.loads(record.facts)["stamp_photo"]["sha256"] == stamp.file.sha256
