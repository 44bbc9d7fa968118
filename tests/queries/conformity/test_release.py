"""What a release is decided on."""

import datetime as dt

import pytest

from records.models import PressSample, ServiceEvent
from records.queries.builds.progress import progress_of
from records.queries.conformity.release import (
    came_back,
    gauges_read,
    last_release,
    newer_revision,
    open_deviations,
    work_since,
)
from records.services.conformity.release import release_propeller
from tests import factories, finished

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made


def test_gauges_of_readings_and_of_press_samples_are_listed(made):
    progress = progress_of(made.propeller)
    before = gauges_read(progress)
    gauge = factories.CalibrationFactory().gauge
    load = progress.provenance.loads[0]
    PressSample.objects.create(
        load=load,
        at=load.on_at + dt.timedelta(minutes=7),
        entered="18",
        unit="MPa",
        glue_line_pa=1.2e6,
        source="typed",
        gauge=gauge,
        written_at=factories.NOON,
        written_by=made.maker,
    )
    (new,) = [r for r in gauges_read(progress) if r.gauge == gauge]
    assert new.thing == load
    assert new.reading is None
    assert new.calibration.gauge == gauge
    assert len(gauges_read(progress)) == len(before) + 1


def test_the_calibration_is_the_last_one_before_the_reading(made):
    gauge = factories.m.Gauge.objects.get(unit="g")
    late = factories.CalibrationFactory(gauge=gauge, done_on=dt.date(2026, 12, 1))
    result = [r for r in gauges_read(progress_of(made.propeller)) if r.gauge == gauge]
    assert result
    assert all(r.calibration != late for r in result)


def test_open_deviations_reach_through_repair_material(made):
    use = factories.MaterialUseFactory(propeller=made.propeller)
    deviation = factories.DeviationFactory()
    factories.DeviationSubjectFactory(deviation=deviation, lot=use.lot)
    factories.DeviationSubjectFactory(
        deviation=factories.DeviationFactory(state="closed"), lot=use.lot
    )
    factories.DeviationSubjectFactory()  # of another board
    assert open_deviations(progress_of(made.propeller)) == [deviation]


def test_the_last_return_and_the_work_since_are_found(made):
    assert came_back(made.propeller) is None
    pen = {"written_by": made.maker, "findings": "x"}
    for kind, day in (("work", 1), ("returned", 2), ("work", 3)):
        at = factories.NOON + dt.timedelta(days=day)
        ServiceEvent.objects.create(
            propeller=made.propeller, kind=kind, happened_at=at, written_at=at, **pen
        )
    event = came_back(made.propeller)
    assert event.kind == "returned"
    assert len(work_since(made.propeller, event)) == 1


def test_the_last_release_is_found(made):
    assert last_release(made.propeller) is None
    release = release_propeller(act=made.act, propeller=made.propeller)
    assert last_release(made.propeller) == release


def test_a_newer_revision_is_found_from_the_older_one_only(made):
    old = made.propeller.revision
    new = factories.RevisionFactory(design=old.design, number="B")
    assert newer_revision(old) == new
    assert newer_revision(new) is None
