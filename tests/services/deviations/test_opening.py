"""Opening and closing deviations: numbered, with holds, refused in sentences.

What a nonconformance record holds follows ISO 9001:2015, 8.7.2 and 14 CFR 21.137(h)
(rules-and-standards, sections 1 and 5).
"""

import datetime as dt

import pytest
from django.db import IntegrityError, transaction
from django.db.models import ProtectedError
from django.db.utils import DatabaseError

from records.models import Deviation, DeviationSubject, Hold, LedgerEntry
from records.queries.reach.holds import holds_on
from records.rules.deviations.opening import Touched
from records.services.deviations.opening import (
    add_things,
    close_deviation,
    open_deviation,
    set_cause,
)
from records.services.ledger import Act
from records.services.refusal import Refusal
from tests import factories

pytestmark = pytest.mark.django_db


def opened(act, *things, **kwargs):
    words = {
        "title": "Track out of limit",
        "required": "at most 1.5 mm",
        "found": "2.1 mm with G04",
        "happened_at": act.at - dt.timedelta(hours=1),
    }
    return open_deviation(act=act, things=things, **words | kwargs)


def sentences(refusal):
    return [f.sentence for f in refusal.value.findings]


def test_open_numbers_it_names_its_things_and_holds_each(act):
    propeller, mix = factories.PropellerFactory(), factories.MixFactory()
    reading = factories.ReadingFactory(propeller=propeller, verdict="outside")
    deviation = opened(act, Touched(propeller, reading=reading), Touched(mix))
    assert deviation.number == "D0001"
    assert opened(act, Touched(mix)).number == "D0002"
    first, second = deviation.subjects.all()
    assert (first.subject, first.reading) == (propeller, reading)
    assert second.subject == mix
    (hold,) = holds_on("propeller", propeller.pk)
    assert (hold.deviation, hold.reason) == (deviation, "Track out of limit")


def test_open_writes_one_entry_with_every_row(act):
    opened(act, Touched(factories.PropellerFactory()))
    entry = LedgerEntry.objects.get()
    assert (entry.verb, entry.subject) == ("open deviation", "D0001")
    for table in ("deviation", "deviationsubject", "hold"):
        assert f"records_{table}" in entry.body


def test_open_without_a_hold_when_told_so(act):
    deviation = opened(act, Touched(factories.PropellerFactory()), hold=False)
    assert not deviation.holds.exists()


def test_joint_is_held_in_its_blank(act):
    blank = factories.glued_blank(3)
    deviation = opened(act, Touched(blank, joint=2))
    assert deviation.holds.get().joint == 2
    assert deviation.subjects.get().joint == 2


def test_two_readings_of_one_thing_make_one_hold(act):
    propeller = factories.PropellerFactory()
    readings = [factories.ReadingFactory(propeller=propeller) for _ in range(2)]
    deviation = opened(act, *(Touched(propeller, reading=r) for r in readings))
    assert deviation.subjects.count() == 2
    assert deviation.holds.count() == 1


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"title": " "}, "Say in a few words what is wrong."),
        ({"required": ""}, "Say what was required."),
        ({"found": ""}, "Say what was found."),
    ],
)
def test_open_without_words_is_refused(act, change, sentence):
    with pytest.raises(Refusal) as refusal:
        opened(act, Touched(factories.PropellerFactory()), **change)
    assert sentences(refusal) == [sentence]
    assert not Deviation.objects.exists()


def test_all_that_is_wrong_is_said_at_once(act):
    tomorrow = act.at + dt.timedelta(days=1)
    with pytest.raises(Refusal) as refusal:
        opened(act, title="", found="", happened_at=tomorrow)
    assert [f.field for f in refusal.value.findings] == [
        "title",
        "found",
        "happened_at",
        "things",
    ]


@pytest.mark.parametrize(
    ("kind", "joint", "sentence"),
    [
        ("blank", 3, "has joints 1 to 2; there is no joint 3."),
        ("blank", 0, "has joints 1 to 2; there is no joint 0."),
        ("mix", 1, "A mix has no joints."),
    ],
)
def test_joint_that_is_not_there_is_refused(act, kind, joint, sentence):
    things = {"blank": lambda: factories.stacked_blank(3), "mix": factories.MixFactory}
    with pytest.raises(Refusal) as refusal:
        opened(act, Touched(things[kind](), joint=joint))
    assert sentences(refusal)[0].endswith(sentence)


def test_same_thing_twice_is_refused(act):
    board = factories.BoardFactory(number="B0077")
    with pytest.raises(Refusal) as refusal:
        opened(act, Touched(board), Touched(board))
    assert sentences(refusal) == ["board B0077 is named twice."]


def test_a_refused_deviation_uses_up_no_number(act):
    with pytest.raises(Refusal):
        opened(act)
    assert opened(act, Touched(factories.BoardFactory())).number == "D0001"


def test_more_things_can_be_added_while_it_is_open(act):
    blank = factories.glued_blank(3)
    deviation = opened(act, Touched(blank.spreads.first().mix))
    add_things(act=act, deviation=deviation, things=[Touched(blank)])
    assert deviation.subjects.count() == 2
    with pytest.raises(Refusal, match=f"is about blank {blank} already"):
        add_things(act=act, deviation=deviation, things=[Touched(blank)])


def test_cause_needs_a_place_and_words(act):
    deviation = opened(act, Touched(factories.BoardFactory()))
    with pytest.raises(Refusal) as refusal:
        set_cause(act=act, deviation=deviation, cause_kind="", cause=" ")
    assert [f.field for f in refusal.value.findings] == ["cause_kind", "cause"]
    set_cause(act=act, deviation=deviation, cause_kind="room", cause="heater off")
    deviation.refresh_from_db()
    assert (deviation.cause_kind, deviation.cause) == ("room", "heater off")


class TestClose:
    @pytest.fixture
    def deviation(self, act):
        return opened(act, Touched(factories.PropellerFactory(serial="SN-031")))

    def decide(self, deviation):
        disposition = factories.DispositionFactory(deviation=deviation)
        for subject in deviation.subjects.all():
            factories.DisposedSubjectFactory(disposition=disposition, subject=subject)

    def test_everything_it_waits_for_is_listed_at_once(self, act, deviation):
        factories.CorrectiveActionFactory(deviation=deviation, what="Mark the place")
        with pytest.raises(Refusal) as refusal:
            close_deviation(act=act, deviation=deviation)
        assert sentences(refusal) == [
            "Nothing is decided about propeller SN-031 in D0001.",
            'The action "Mark the place", due on 1 Apr 2026, is not done.',
            "The hold on propeller SN-031 still stands. Release it, with a reason.",
        ]
        deviation.refresh_from_db()
        assert deviation.state == Deviation.State.OPEN

    def test_closes_when_decided_released_and_done(self, act, deviation):
        self.decide(deviation)
        factories.HoldReleaseFactory(hold=deviation.holds.get())
        factories.CorrectiveActionFactory(
            deviation=deviation, done_on=dt.date(2026, 3, 5)
        )
        closed = close_deviation(act=act, deviation=deviation)
        assert (closed.state, closed.closed_at) == (Deviation.State.CLOSED, act.at)

    def test_action_that_did_not_work_asks_for_another(self, act, deviation):
        self.decide(deviation)
        factories.HoldReleaseFactory(hold=deviation.holds.get())
        action = factories.CorrectiveActionFactory(
            deviation=deviation, what="Talk about it", done_on=dt.date(2026, 3, 5)
        )
        factories.EffectivenessCheckFactory(action=action, effective=False)
        with pytest.raises(Refusal, match='"Talk about it" did not work'):
            close_deviation(act=act, deviation=deviation)
        factories.CorrectiveActionFactory(
            deviation=deviation, done_on=dt.date(2026, 3, 9)
        )
        assert close_deviation(act=act, deviation=deviation).state == "closed"

    def test_without_authority_is_refused(self, act, deviation):
        self.decide(deviation)
        factories.HoldReleaseFactory(hold=deviation.holds.get())
        maker = Act(by=factories.PersonFactory(), at=act.at)
        with pytest.raises(Refusal, match="no authority to dispose"):
            close_deviation(act=maker, deviation=deviation)

    def test_a_closed_one_takes_nothing_more(self, act, deviation):
        self.decide(deviation)
        factories.HoldReleaseFactory(hold=deviation.holds.get())
        close_deviation(act=act, deviation=deviation)
        board = Touched(factories.BoardFactory())
        for again in (
            lambda: close_deviation(act=act, deviation=deviation),
            lambda: add_things(act=act, deviation=deviation, things=[board]),
            lambda: set_cause(
                act=act, deviation=deviation, cause_kind="slip", cause="x"
            ),
        ):
            with pytest.raises(Refusal, match="Deviation D0001 is closed"):
                again()


def test_a_subject_cannot_be_deleted(act):
    propeller = factories.PropellerFactory()
    opened(act, Touched(propeller))
    with pytest.raises(ProtectedError):
        propeller.delete()
    with pytest.raises((IntegrityError, DatabaseError)), transaction.atomic():
        DeviationSubject.objects.all().delete()
    with pytest.raises((IntegrityError, DatabaseError)), transaction.atomic():
        Hold.objects.all().delete()
    assert DeviationSubject.objects.count() == Hold.objects.count() == 1
