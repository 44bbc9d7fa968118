"""All that is on file about one deviation."""

import datetime as dt

import pytest

from records.queries.deviations.file import file_of
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory(blank=factories.glued_blank(3))


@pytest.fixture
def deviation(propeller):
    deviation = factories.DeviationFactory()
    mix = propeller.blank.spreads.first().mix
    factories.DeviationSubjectFactory(deviation=deviation, mix=mix)
    factories.DeviationSubjectFactory(deviation=deviation, blank=propeller.blank)
    return deviation


def test_each_thing_leads_to_its_serials(deviation, propeller):
    whole = file_of(deviation)
    assert len(whole.reached) == 2
    assert [[d.serial for d in places] for places in whole.reached.values()] == [
        [propeller.serial],
        [propeller.serial],
    ]
    assert [d.serial for d in whole.serials] == [propeller.serial]


def test_undecided_and_standing_are_what_is_left(deviation):
    first, second = deviation.subjects.order_by("pk")
    disposition = factories.DispositionFactory(deviation=deviation)
    factories.DisposedSubjectFactory(disposition=disposition, subject=first)
    kept = factories.HoldFactory(deviation=deviation, mix=first.mix)
    gone = factories.HoldFactory(deviation=deviation, blank=second.blank)
    factories.HoldReleaseFactory(hold=gone)
    whole = file_of(deviation)
    assert whole.undecided == [second]
    assert whole.standing == [kept]
    assert whole.holds == [kept, gone]


def test_photos_are_those_taken_since_it_was_found(deviation, propeller):
    before = NOON - dt.timedelta(days=1)
    factories.AttachmentFactory(blank=propeller.blank, happened_at=before)
    photo = factories.AttachmentFactory(blank=propeller.blank, happened_at=NOON)
    factories.AttachmentFactory(happened_at=NOON)
    assert file_of(deviation).photos == [photo]


def test_gauge_alone_reaches_no_serial(shop):
    subject = factories.DeviationSubjectFactory(gauge=factories.GaugeFactory())
    whole = file_of(subject.deviation)
    assert (whole.reached, whole.serials) == ({}, [])


def test_queries_do_not_grow(deviation, propeller, django_assert_num_queries):
    mix = propeller.blank.spreads.first().mix
    disposition = factories.DispositionFactory(deviation=deviation)
    for _ in range(20):
        made = factories.PropellerFactory(blank=factories.glued_blank(3, mix=mix))
        subject = factories.DeviationSubjectFactory(
            deviation=deviation,
            propeller=made,
            reading=factories.ReadingFactory(propeller=made),
        )
        factories.DisposedSubjectFactory(disposition=disposition, subject=subject)
        factories.HoldFactory(deviation=deviation, propeller=made)
        action = factories.CorrectiveActionFactory(deviation=deviation)
        factories.EffectivenessCheckFactory(action=action)
        factories.AttachmentFactory(propeller=made)
    with django_assert_num_queries(12):
        whole = file_of(deviation)
        names = [str(s.subject) for s in whole.subjects]
        names += [
            str(d.subject.subject) for x in whole.dispositions for d in x.disposed.all()
        ]
        names += [str(h.subject) for h in whole.holds]
        names += [c.evidence for a in whole.actions for c in a.checks.all()]
        names += [str(p.file) for p in whole.photos]
    assert len(names) == 22 + 20 + 20 + 20 + 20
