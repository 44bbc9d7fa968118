"""What was written about a thing and its parts, for one or for many."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.queries.provenance.loading import provenance_of, provenances
from records.queries.provenance.written import gauges_used, pressed_in, written_about
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory(blank=factories.glued_blank(3))


def written(propeller):
    [one] = written_about([provenance_of(propeller)])
    return one


def test_readings_of_every_part_in_the_order_of_the_bench(propeller):
    made = provenance_of(propeller)
    mine = [
        factories.ReadingFactory(**{"propeller": None} | about)
        for about in (
            {"lot": made.timber_lots[0]},
            {"lot": made.glue_lots[0]},
            {"mix": made.mixes[0]},
            {"load": made.loads[0]},
            {"propeller": propeller},
        )
    ]
    factories.ReadingFactory()
    assert written(propeller).readings == mine


def test_a_corrected_reading_stays_beside_the_one_that_corrects_it(propeller):
    wrong = factories.ReadingFactory(propeller=propeller, entered="103")
    right = factories.ReadingFactory(
        propeller=propeller, entered="10.3", corrects=wrong, reason="slip"
    )
    readings = written(propeller).readings
    assert readings == [wrong, right]
    assert readings[0].corrected_by == right


def test_a_deviation_that_touches_two_parts_is_told_once(propeller):
    deviation = factories.DeviationFactory()
    mix = propeller.blank.spreads.first().mix
    for about in ({"mix": mix}, {"propeller": propeller}):
        factories.DeviationSubjectFactory(deviation=deviation, **about)
    factories.DeviationSubjectFactory(propeller=factories.PropellerFactory())
    assert written(propeller).deviations == [deviation]


def test_samples_come_in_short_and_their_gauge_is_named(propeller):
    load, gauge = propeller.blank.loaded.get().load, factories.GaugeFactory()
    for minute, pascals in enumerate((1.2e6, 1.1e6)):
        at = factories.NOON + dt.timedelta(minutes=minute)
        factories.PressSampleFactory(
            load=load, at=at, glue_line_pa=pascals, gauge=gauge
        )
    seen = pressed_in([load.pk])[load.pk]
    assert (seen.samples, seen.lowest_pa, seen.highest_pa) == (2, 1.1e6, 1.2e6)
    made = provenance_of(propeller)
    assert gauges_used(made, written(propeller)) == [gauge]


def test_many_are_no_more_queries_than_one(propeller):
    def queries(things):
        made = list(provenances(things).values())
        with CaptureQueriesContext(connection) as seen:
            one = written_about(made)
            names = [str(r.subject) for w in one for r in w.readings]
            names += [str(s.subject) for w in one for s in w.signoffs]
        return len(seen)

    things = [factories.PropellerFactory() for _ in range(20)]
    for thing in (propeller, *things):
        factories.ReadingFactory(propeller=thing)
        factories.SignOffFactory(propeller=thing)
    assert queries([propeller]) == queries([propeller, *things])
