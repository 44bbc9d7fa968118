"""What a deviation touches and waits for."""

import datetime as dt

import pytest

from records.queries.deviations.register import (
    actions_of,
    deviations_listed,
    dispositions_of,
    holds_of,
    needed_by_others,
    open_actions,
    still_held,
    subjects_of,
    undecided,
)
from tests import factories

pytestmark = pytest.mark.django_db
DONE = dt.date(2026, 3, 3)


@pytest.fixture
def deviation(shop):
    return factories.DeviationFactory()


def decided(deviation, kind="rework", **kwargs):
    disposition = factories.DispositionFactory(deviation=deviation, kind=kind, **kwargs)
    for subject in deviation.subjects.all():
        factories.DisposedSubjectFactory(disposition=disposition, subject=subject)
    return disposition


def test_undecided_are_those_without_a_decision(deviation):
    first = factories.DeviationSubjectFactory(deviation=deviation)
    decided(deviation)
    second = factories.DeviationSubjectFactory(deviation=deviation)
    assert undecided(deviation) == [second]
    assert list(subjects_of(deviation)) == [first, second]


def test_open_actions_are_those_not_done_or_last_and_not_effective(deviation):
    waiting = factories.CorrectiveActionFactory(deviation=deviation)
    worked = factories.CorrectiveActionFactory(deviation=deviation, done_on=DONE)
    factories.EffectivenessCheckFactory(action=worked, effective=False)
    factories.EffectivenessCheckFactory(action=worked, effective=True)
    assert open_actions(deviation) == [waiting]
    failed = factories.CorrectiveActionFactory(deviation=deviation, done_on=DONE)
    factories.EffectivenessCheckFactory(action=failed, effective=False)
    assert open_actions(deviation) == [waiting, failed]


def test_holds_still_standing(deviation):
    kept = factories.HoldFactory(deviation=deviation, board=factories.BoardFactory())
    gone = factories.HoldFactory(deviation=deviation, board=factories.BoardFactory())
    factories.HoldReleaseFactory(hold=gone)
    assert still_held(deviation) == [kept]
    assert list(holds_of(deviation)) == [kept, gone]


def test_hold_of_a_mix_thrown_away_is_not_waited_for(deviation):
    mix = factories.MixFactory()
    factories.HoldFactory(deviation=deviation, mix=mix)
    factories.DeviationSubjectFactory(deviation=deviation, mix=mix)
    assert len(still_held(deviation)) == 1
    photo = factories.AttachmentFactory(mix=mix)
    decided(deviation, kind="scrap", proof=photo)
    assert still_held(deviation) == []


class TestNeededByOthers:
    @pytest.fixture
    def hold(self, deviation):
        blank = factories.stacked_blank(3)
        return factories.HoldFactory(deviation=deviation, blank=blank)

    def other(self, hold, **kwargs):
        row = factories.DeviationSubjectFactory(blank=hold.blank, **kwargs)
        return row.deviation

    def test_open_one_without_its_own_hold(self, hold):
        other = self.other(hold)
        assert needed_by_others(hold) == [other]

    def test_not_a_closed_one(self, hold):
        self.other(hold, deviation=factories.DeviationFactory(state="closed"))
        assert needed_by_others(hold) == []

    def test_not_its_own_deviation(self, hold):
        self.other(hold, deviation=hold.deviation)
        assert needed_by_others(hold) == []

    @pytest.mark.parametrize(("joint", "needed"), [(1, 1), (2, 0), (None, 1)])
    def test_hold_on_a_joint_is_needed_for_that_joint(self, deviation, joint, needed):
        blank = factories.stacked_blank(3)
        hold = factories.HoldFactory(deviation=deviation, blank=blank, joint=1)
        self.other(hold, joint=joint)
        assert len(needed_by_others(hold)) == needed


def test_list_counts_and_does_not_grow(deviation, django_assert_num_queries):
    for _ in range(20):
        other = factories.DeviationFactory()
        factories.HoldFactory(deviation=other, board=factories.BoardFactory())
        factories.DeviationSubjectFactory(deviation=other)
        factories.DeviationSubjectFactory(deviation=other)
        factories.CorrectiveActionFactory(deviation=other)
        decided(other)
    with django_assert_num_queries(3):
        result = list(deviations_listed())
        names = [str(s.subject) for d in result for s in d.subjects.all()]
        kinds = [str(p) for d in result for p in d.dispositions.all()]
    assert (len(result), len(names), len(kinds)) == (21, 40, 20)
    by_pk = {d.pk: d for d in result}
    assert (by_pk[other.pk].holds_standing, by_pk[other.pk].actions_to_do) == (1, 1)
    assert (by_pk[other.pk].decided, by_pk[deviation.pk].decided) == (True, False)


def test_decisions_come_whole(deviation, django_assert_num_queries):
    factories.DeviationSubjectFactory(deviation=deviation)
    decided(deviation)
    factories.CorrectiveActionFactory(deviation=deviation)
    with django_assert_num_queries(4):
        (dispositions,) = dispositions_of(deviation)
        assert [str(d.subject.subject) for d in dispositions.disposed.all()]
        assert list(dispositions.repeat.all()) == []
    with django_assert_num_queries(2):
        assert [a.owner.name for a in actions_of(deviation)]
