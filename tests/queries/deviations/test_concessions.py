"""What a closed deviation accepts, and what it does not."""

import pytest

from records.queries.deviations import concessions
from records.queries.provenance.loading import provenance_of
from tests import factories

pytestmark = pytest.mark.django_db
AGREED = {"design_authority": "Design office", "plain_words": "A little thicker."}


@pytest.fixture
def blank(db):
    return factories.glued_blank()


def decided(kind="use_as_is", state="closed", **about):
    deviation = factories.DeviationFactory(state=state)
    subject = factories.DeviationSubjectFactory(deviation=deviation, **about)
    row = factories.DispositionFactory(deviation=deviation, kind=kind, **AGREED)
    factories.DisposedSubjectFactory(disposition=row, subject=subject)
    return subject


def accepted_on(blank, readings):
    named = concessions.named_subjects(provenance_of(blank).keys(), readings)
    return concessions.accepted_subjects(named)


@pytest.mark.parametrize(
    ("kind", "state", "accepted"),
    [
        ("use_as_is", "closed", True),
        ("repair", "closed", True),
        ("rework", "closed", False),
        ("return", "closed", False),
        ("use_as_is", "open", False),
    ],
)
def test_only_a_closed_decision_to_use_or_repair_accepts(blank, kind, state, accepted):
    subject = decided(kind, state, blank=blank, joint=2)
    result = accepted_on(blank, [])
    assert result == ([subject] if accepted else [])


def test_a_deviation_without_a_decision_about_it_accepts_nothing(blank):
    deviation = factories.DeviationFactory(state="closed")
    factories.DeviationSubjectFactory(deviation=deviation, blank=blank)
    factories.DispositionFactory(deviation=deviation, kind="use_as_is", **AGREED)
    assert accepted_on(blank, []) == []


def test_joints_readings_and_things_are_told_apart(blank):
    mix = blank.spreads.first().mix
    reading = factories.ReadingFactory()
    decided(blank=blank, joint=2)
    decided(mix=mix)
    decided(propeller=reading.propeller, reading=reading)
    result = accepted_on(blank, [reading])
    assert concessions.accepted_joints(result) == {(blank.pk, 2)}
    assert concessions.accepted_things(result, "mix") == {mix.pk}
    assert concessions.accepted_things(result, "blank") == set()
    assert concessions.accepted_readings(result) == {reading.pk}


def test_another_blanks_decision_is_no_decision_here(blank):
    decided(blank=factories.BlankFactory(), joint=2)
    assert accepted_on(blank, []) == []
