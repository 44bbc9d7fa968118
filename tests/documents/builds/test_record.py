"""The build record holds every reading with verdict, limit, gauge and writer."""

import pytest

from records.documents.builds.record import draw_build_record
from records.models import Reading, SignOff
from tests import factories, finished
from tests.documents import reading

pytestmark = pytest.mark.django_db
built = finished.built


@pytest.fixture(scope="module")
def words(built, django_db_blocker):
    with django_db_blocker.unblock():
        deviation = factories.DeviationFactory(
            number="D0009", title="Dent at the tip", state="closed"
        )
        factories.DeviationSubjectFactory(
            deviation=deviation, propeller=built.propeller
        )
        pdf = draw_build_record(built.propeller, built.act.at)
        return reading.text(pdf), Reading.objects.count(), SignOff.objects.count()


def test_every_reading_and_signature_is_a_line(words):
    text, readings, signatures = words
    assert text.count("Mara Holt") >= readings
    assert text.count("Ines Perrot") >= signatures


@pytest.mark.parametrize(
    "part",
    [
        "Track 0.0 mm (0.000 in) at most 1.5 mm (0.059 in) inside",
        "Blade angle, blade 2 at 258 mm 36.510° 36.01° to 37.01° inside G103",
        (
            "at the glue line 1.19 MPa (173 psi) 1.00 MPa (145 psi) to "
            "1.40 MPa (203 psi)"
        ),
        "Mass, lamination B102-1 3150 g (6.94 lb)",
        "1 M101 both faces 2 Mar 2026, 12:02 2 Mar 2026, 12:08",
        "Seen: 40 samples, lowest 1.09 MPa",
        "90 % (at least 75 %)",
        "inspected, as required independent person",
        "D0009 Dent at the tip",
        "B102-1 Yellow birch",
        "2026-001",
    ],
)
def test_what_was_seen_is_there(words, part):
    assert part in words[0]
