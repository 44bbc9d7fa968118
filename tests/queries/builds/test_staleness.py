"""When a reading no longer counts, and why."""

import datetime as dt

import pytest

from records.models import Designation, MaterialChange, StageToRepeat
from records.queries.builds.staleness import (
    changes_of,
    designations_of,
    repeats_for,
    why_stale,
)
from records.queries.deviations.concessions import named_subjects
from records.queries.provenance.loading import provenance_of
from tests import factories

pytestmark = pytest.mark.django_db
HOUR = dt.timedelta(hours=1)
MINUTE = dt.timedelta(minutes=1)


class MaterialChangeFactory(factories.RowFactory):
    class Meta:
        model = MaterialChange

    what = "removed"
    place = "tip of blade 2"
    reason = "Nick"
    happened_at = factories.NOON


class StageToRepeatFactory(factories.RowFactory):
    class Meta:
        model = StageToRepeat


class DesignationFactory(factories.RowFactory):
    class Meta:
        model = Designation

    reason = "Ordered for a glider tug"


@pytest.fixture
def balance(db):
    stage = factories.StageFactory(order=5, goes_stale=True, name="Balance")
    return factories.CharacteristicFactory(stage=stage)


def read(characteristic, at=factories.NOON, **kwargs):
    return factories.ReadingFactory(
        characteristic=characteristic, happened_at=at, **kwargs
    )


def change(at, propeller=None, **kwargs):
    propeller = propeller or factories.PropellerFactory()
    return MaterialChangeFactory(propeller=propeller, happened_at=at, **kwargs)


def repeats(thing):
    return repeats_for(named_subjects(provenance_of(thing).keys(), []))


def test_material_removed_or_added_afterwards_makes_it_stale(balance):
    reading = read(balance)
    removed = change(factories.NOON + MINUTE)
    added = change(factories.NOON + MINUTE, what="added", place="hub")
    why = why_stale(reading, [removed], [], [])
    assert why == "material removed afterwards (tip of blade 2)"
    assert why_stale(reading, [added], [], []) == "material added afterwards (hub)"


def test_what_was_read_after_the_change_counts(balance):
    reading = read(balance, factories.NOON + MINUTE)
    assert why_stale(reading, [change(factories.NOON)], [], []) == ""


def test_at_the_same_moment_the_order_of_writing_decides(balance):
    later = factories.NOON + HOUR
    before = read(balance, written_at=factories.NOON)
    after = read(balance, written_at=later + HOUR)
    moved = change(factories.NOON, written_at=later)
    assert why_stale(before, [moved], [], [])
    assert why_stale(after, [moved], [], []) == ""


def test_a_stage_that_does_not_go_stale_is_left_alone():
    characteristic = factories.CharacteristicFactory()
    assert (
        why_stale(read(characteristic), [change(factories.NOON + HOUR)], [], []) == ""
    )


@pytest.mark.parametrize(("order", "stale"), [(4, True), (5, True), (6, False)])
def test_work_of_an_earlier_or_the_same_stage_makes_it_stale(balance, order, stale):
    sanding = factories.CharacteristicFactory(
        stage=balance.stage
        if order == 5
        else factories.StageFactory(revision=balance.stage.revision, order=order),
        name="Sanded again",
        changes_material=True,
    )
    reading = read(balance)
    work = read(sanding, factories.NOON + MINUTE)
    why = why_stale(reading, [], [work], [])
    assert why == ("Sanded again was done afterwards" if stale else "")
    assert why_stale(reading, [], [read(sanding, factories.NOON - MINUTE)], []) == ""


def test_work_that_changes_nothing_makes_nothing_stale(balance):
    look = factories.CharacteristicFactory(stage=balance.stage)
    later = read(look, factories.NOON + MINUTE)
    assert why_stale(read(balance), [], [later], []) == ""


def rework(stage, at, **about):
    deviation = factories.DeviationFactory()
    decided = factories.DeviationSubjectFactory(deviation=deviation, **about)
    row = factories.DispositionFactory(
        deviation=deviation, kind="rework", happened_at=at
    )
    factories.DisposedSubjectFactory(disposition=row, subject=decided)
    StageToRepeatFactory(disposition=row, stage=stage)
    return deviation


def test_a_rework_makes_the_stages_it_repeats_stale(balance):
    propeller = factories.PropellerFactory()
    deviation = rework(balance.stage, factories.NOON + HOUR, propeller=propeller)
    [repeat] = repeats(propeller)
    assert repeat.about == {("propeller", propeller.pk)}
    before, after = read(balance), read(balance, factories.NOON + 2 * HOUR)
    why = f"deviation {deviation.number} asks to repeat Balance"
    assert why_stale(before, [], [], [repeat]) == why
    assert why_stale(after, [], [], [repeat]) == ""


def test_a_rework_of_the_blank_reaches_its_propellers_and_no_others(balance):
    blank = factories.BlankFactory()
    rework(balance.stage, factories.NOON, blank=blank)
    mine, other = factories.PropellerFactory(blank=blank), factories.PropellerFactory()
    assert len(repeats(mine)) == 1
    assert repeats(other) == []


def test_a_rework_of_one_subject_leaves_the_others_alone(balance):
    mine, other = factories.PropellerFactory(), factories.PropellerFactory()
    deviation = rework(balance.stage, factories.NOON, propeller=mine)
    factories.DeviationSubjectFactory(deviation=deviation, propeller=other)
    assert len(repeats(mine)) == 1
    assert repeats(other) == []


def test_changes_are_those_of_the_propeller():
    propeller = factories.PropellerFactory()
    mine = change(factories.NOON, propeller)
    change(factories.NOON)
    assert changes_of(provenance_of(propeller)) == [mine]
    assert changes_of(provenance_of(propeller.blank)) == []


def test_what_was_marked_before_it_was_made_another_design_is_stale(balance):
    marked = factories.CharacteristicFactory(
        stage=balance.stage, code="stamp", purpose="marking"
    )
    propeller = factories.PropellerFactory()
    other = factories.RevisionFactory(design__model="TA-9", number="B")
    DesignationFactory(
        propeller=propeller,
        before=propeller.revision,
        after=other,
        happened_at=factories.NOON + MINUTE,
    )
    made = designations_of(provenance_of(propeller))
    why = why_stale(read(marked), [], [], [], made)
    assert why == "it was made TA-9 revision B afterwards"
    assert why_stale(read(marked, factories.NOON + HOUR), [], [], [], made) == ""
    assert why_stale(read(balance), [], [], [], made) == ""
    assert designations_of(provenance_of(propeller.blank)) == []


def test_what_was_marked_is_true_of_one_design_only():
    characteristic = factories.CharacteristicFactory(code="stamp", purpose="marking")
    other = factories.CharacteristicFactory(code="bore")
    propeller = factories.PropellerFactory()
    after = factories.RevisionFactory()
    Designation.objects.create(
        propeller=propeller,
        before=propeller.revision,
        after=after,
        happened_at=factories.NOON + HOUR,
        reason="Shortened",
        written_by=factories.PersonFactory(),
        written_at=factories.NOON,
    )
    made = designations_of(provenance_of(propeller))
    why = why_stale(read(characteristic), [], [], [], made)
    assert why == f"it was made {after.design} {after} afterwards"
    assert why_stale(read(other), [], [], [], made) == ""
    again = read(characteristic, factories.NOON + 2 * HOUR)
    assert why_stale(again, [], [], [], made) == ""
    assert designations_of(provenance_of(propeller.blank)) == []
