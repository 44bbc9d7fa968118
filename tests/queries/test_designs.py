"""What a station table comes to, and how designs are listed."""

import pytest

from records.models import Revision
from records.queries.designs import (
    designs_listed,
    figures_of,
    newest_revision,
    revision_in_whole,
    revisions_in_use,
    revisions_of,
    stations_of,
)
from tests import factories

pytestmark = pytest.mark.django_db
# Diameter 68 in, pitch 48 in, r/R 0.45 to 0.90: angles to 0.001 deg (check values,
# computed from p = 2 pi r tan(beta)).
BLADE = [
    ("388.62", "26.533", 150, 30, 160),
    ("518.16", "20.530", 140, 22, 160),
    ("647.70", "16.677", 120, 15, 150),
    ("777.24", "14.018", 95, 10, 120),
]


def test_the_pitch_of_a_constant_pitch_blade_is_the_same_at_each_station():
    revision = factories.RevisionFactory(diameter_mm="1727.2", stations=BLADE)
    revision = revision_in_whole(revision.pk)
    figures = figures_of(revision, stations_of(revision))
    # Within what the third decimal of the angle leaves: 0.0005 deg at 777 mm.
    assert figures.pitches_mm == pytest.approx([1219.2] * 4, abs=0.06)
    assert figures.mean_pitch_mm == pytest.approx(1219.2, abs=0.06)


def test_the_activity_factor_is_that_of_one_blade_between_its_stations():
    # Definition: AF = (100000/16) Int (c/D) x^3 dx; constant c/D 0.08 over x 0.15 to 1
    # is 124.937 (check values); the trapezoids of 0.05 steps lie a little above.
    rows = [(863.6 * x / 100, "15", "138.176", "10", "160") for x in range(15, 101, 5)]
    revision = factories.RevisionFactory(diameter_mm="1727.2", stations=rows)
    revision = revision_in_whole(revision.pk)
    figures = figures_of(revision, stations_of(revision))
    assert figures.activity_factor == pytest.approx(124.937, rel=0.005)


def test_one_station_gives_a_pitch_but_no_outline():
    revision = factories.RevisionFactory(stations=BLADE[:1])
    revision = revision_in_whole(revision.pk)
    figures = figures_of(revision, stations_of(revision))
    assert figures.activity_factor is None
    assert figures.joint_area_mm2 > 0


def test_without_stations_nothing_is_computed():
    assert figures_of(Revision(), []) is None


def test_stations_run_from_the_hub_outwards():
    revision = factories.RevisionFactory(stations=BLADE[::-1])
    radii = [s.radius_mm for s in stations_of(revision)]
    assert radii == sorted(radii)


def test_designs_are_listed_with_their_newest_revision(django_assert_num_queries):
    old = factories.RevisionFactory(number="A")
    new = factories.RevisionFactory(design=old.design, number="B", diameter_mm=1800)
    for _ in range(19):
        factories.RevisionFactory()
    with django_assert_num_queries(1):
        rows = {d.pk: d for d in designs_listed()}
    row = rows[old.design_id]
    assert (row.newest, row.diameter_mm, row.revision_count) == ("B", 1800, 2)
    assert newest_revision(old.design) == new
    assert list(revisions_of(old.design)) == [new, old]


def test_revisions_in_use_leave_out_designs_that_are_not():
    mine = factories.RevisionFactory()
    factories.RevisionFactory(design__in_use=False)
    assert list(revisions_in_use()) == [mine]
