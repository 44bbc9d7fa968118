"""A propeller's dossier is whole, and many of them are no more queries than one."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from records.queries.provenance import dossiers as module
from records.queries.provenance.dossiers import dossiers
from tests import factories
from tests.finished import built, made  # noqa: F401

pytestmark = pytest.mark.django_db


@pytest.fixture
def one(made):  # noqa: F811
    (result,) = dossiers()
    return result


def test_it_goes_from_the_serial_down_to_the_lots(one):
    kinds = {kind for kind, _ in one.parts()}
    assert kinds == {
        *("propeller", "blank", "lamination", "board", "lot", "mix", "load", "coupon")
    }
    assert [piece.position for piece in one.laminations] == [1, 2, 3, 4]
    glue = {one.spreads[0].mix.resin_lot_id, one.spreads[0].mix.hardener_lot_id}
    assert {("lot", pk) for pk in glue} <= one.parts()


def test_readings_and_signatures_of_every_part_are_in_it(one):
    assert {reading.subject_kind for reading in one.readings} >= {
        *("lot", "board", "blank", "propeller")
    }
    assert {sign.subject_kind for sign in one.signoffs} >= {"blank", "propeller"}
    assert [r.pk for r in one.readings] == sorted(r.pk for r in one.readings)


def test_press_samples_are_in_it_in_short(one):
    (load,) = {row.load_id for row in one.loaded}
    seen = one.pressed[load]
    assert seen.samples > 0
    assert seen.lowest_pa <= seen.highest_pa


def test_what_is_about_another_propeller_is_not_in_it(made):  # noqa: F811
    other = factories.PropellerFactory(serial="other")
    reading = factories.ReadingFactory(propeller=other)
    mine, theirs = dossiers()
    assert theirs.propeller == other
    assert theirs.readings == [reading]
    assert reading not in mine.readings


def test_twenty_more_take_no_more_queries(made):  # noqa: F811
    def queries():
        with CaptureQueriesContext(connection) as seen:
            result = [len(one.readings) for one in dossiers()]
        return len(result), len(seen)

    one, few = queries()
    assert one == 1
    for n in range(20):
        propeller = factories.PropellerFactory(serial=f"T-{n}")
        factories.ReadingFactory(propeller=propeller)
    assert queries() == (21, few)


def test_every_one_comes_once_however_many_are_read_at_a_time(made, monkeypatch):  # noqa: F811
    monkeypatch.setattr(module, "AT_ONCE", 3)
    serials = [factories.PropellerFactory(serial=f"T-{n}").serial for n in range(10)]
    first = made.propeller.serial
    assert [one.propeller.serial for one in dossiers()] == [first, *serials]
