"""A hold is put on by anybody, and released by authority, with a reason."""

import datetime as dt

import pytest

from records.models import Hold, HoldRelease
from records.queries.reach.holds import holds_on
from records.rules.deviations.opening import Touched
from records.services.deviations.opening import open_deviation
from records.services.holds import hold, release_hold
from records.services.ledger import Act
from records.services.refusal import Refusal
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory(blank=factories.glued_blank(3))


def opened(act, *things, **kwargs):
    return open_deviation(
        act=act,
        title="Closed late",
        things=[Touched(thing) for thing in things],
        required="closed within 60 min",
        found="71 min",
        happened_at=act.at,
        **kwargs,
    )


def decide(deviation):
    disposition = factories.DispositionFactory(deviation=deviation)
    for subject in deviation.subjects.all():
        factories.DisposedSubjectFactory(disposition=disposition, subject=subject)


def release(act, standing, reason="coupon and slice are good"):
    return release_hold(act=act, hold=standing, reason=reason, happened_at=act.at)


def test_a_maker_may_hold_and_every_child_is_held(act, propeller):
    maker = Act(by=factories.PersonFactory(), at=act.at)
    load = propeller.blank.loaded.get().load
    held = hold(act=maker, thing=load, reason="power cut", happened_at=act.at)
    assert holds_on("propeller", propeller.pk) == [held]


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"reason": "  "}, "Say why."),
        ({"happened_at": dt.datetime(2999, 1, 1, tzinfo=dt.UTC)}, "still to come"),
        ({"joint": 1}, "A propeller has no joints."),
    ],
)
def test_hold_is_refused(act, propeller, change, sentence):
    words = {"reason": "dropped", "happened_at": act.at}
    with pytest.raises(Refusal, match=sentence):
        hold(act=act, thing=propeller, **words | change)
    assert not Hold.objects.exists()


def test_release_is_a_record_with_a_reason(act, propeller):
    standing = hold(act=act, thing=propeller, reason="dropped", happened_at=act.at)
    released = release(act, standing, "no mark found under the lens")
    assert HoldRelease.objects.get() == released
    assert holds_on("propeller", propeller.pk) == []
    assert Hold.objects.get() == standing


def test_release_twice_is_refused(act, propeller):
    standing = hold(act=act, thing=propeller, reason="dropped", happened_at=act.at)
    release(act, standing)
    with pytest.raises(Refusal, match="released already"):
        release(act, standing)


def test_release_needs_authority_and_reason_both_said(act, propeller):
    standing = hold(act=act, thing=propeller, reason="dropped", happened_at=act.at)
    maker = Act(by=factories.PersonFactory(), at=act.at)
    with pytest.raises(Refusal) as refusal:
        release(maker, standing, " ")
    first, second = refusal.value.findings
    assert "no authority to dispose of deviations" in first.sentence
    assert (second.sentence, second.field) == ("Say why.", "reason")
    assert holds_on("propeller", propeller.pk) == [standing]


def test_release_before_the_decision_is_refused(act, propeller):
    deviation = opened(act, propeller)
    with pytest.raises(Refusal, match=r"Nothing is decided about propeller .* D0001"):
        release(act, deviation.holds.get())
    decide(deviation)
    release(act, deviation.holds.get())


def test_release_that_another_deviation_still_needs_is_refused(act, propeller):
    mix = propeller.blank.spreads.first().mix
    first = opened(act, mix)
    opened(act, mix, hold=False)
    decide(first)
    with pytest.raises(Refusal, match="Deviation D0002 is open"):
        release(act, first.holds.get())
    assert holds_on("mix", mix.pk) == [first.holds.get()]


def test_another_deviation_with_its_own_hold_does_not_stand_in_the_way(act, propeller):
    mix = propeller.blank.spreads.first().mix
    first, second = opened(act, mix), opened(act, mix)
    decide(first)
    release(act, first.holds.get())
    assert holds_on("propeller", propeller.pk) == [second.holds.get()]


def test_another_deviation_that_has_decided_does_not_stand_in_the_way(act, propeller):
    first, second = opened(act, propeller), opened(act, propeller, hold=False)
    decide(first)
    decide(second)
    release(act, first.holds.get())
    assert holds_on("propeller", propeller.pk) == []


def test_gauge_is_held_from_its_last_good_calibration(act):
    gauge = factories.GaugeFactory()
    factories.CalibrationFactory(gauge=gauge, done_on=dt.date(2026, 1, 10))
    factories.CalibrationFactory(
        gauge=gauge, done_on=dt.date(2026, 2, 10), as_left_error="0.2"
    )
    held = hold(act=act, thing=gauge, reason="fell", happened_at=act.at)
    assert held.readings_from == dt.datetime(2026, 1, 10, tzinfo=dt.UTC)
    assert held.readings_until == act.at
