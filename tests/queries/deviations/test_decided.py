import pytest

from records.queries.deviations.decided import is_accepted
from tests import factories

pytestmark = pytest.mark.django_db


def decide(kind="use_as_is", state="closed", **about):
    """Decide about a thing in a deviation."""
    subject = factories.DeviationSubjectFactory(deviation__state=state, **about)
    decision = factories.DispositionFactory(
        deviation=subject.deviation,
        kind=kind,
        design_authority="Design office, note 4",
        plain_words="Used as it is.",
    )
    factories.DisposedSubjectFactory(disposition=decision, subject=subject)


@pytest.mark.parametrize("kind", ["use_as_is", "repair"])
def test_a_closed_deviation_accepts(kind):
    mix = factories.MixFactory()
    decide(kind, mix=mix)
    assert is_accepted(mix)


@pytest.mark.parametrize(
    ("kind", "state"), [("use_as_is", "open"), ("rework", "closed")]
)
def test_an_open_one_and_another_decision_do_not(kind, state):
    load = factories.PressLoadFactory()
    decide(kind, state, load=load)
    assert not is_accepted(load)


def test_what_was_decided_about_another_thing_does_not_count():
    decide(load=factories.PressLoadFactory())
    assert not is_accepted(factories.CouponFactory())
