import datetime as dt

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError

from records.models import PressLoad, PressSample
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


def sample(load, **kwargs):
    row = {
        "load": load,
        "at": NOON,
        "entered": "100",
        "unit": "bar",
        "glue_line_pa": 4e5,
        "source": "typed",
        "written_at": NOON,
        "written_by": load.written_by,
    }
    return PressSample.objects.create(**(row | kwargs))


@pytest.mark.parametrize(
    "figures",
    [
        {"kind": "rams", "bore_mm": None},
        {"kind": "bag", "bag_area_ratio": None},
        {"kind": "screws", "nut_factor": None},
    ],
)
def test_a_press_has_the_figures_of_its_kind(figures):
    with pytest.raises(IntegrityError):
        factories.PressFactory(**figures)


def test_a_press_opens_after_it_closed():
    with pytest.raises(IntegrityError):
        factories.PressLoadFactory(on_at=NOON, off_at=NOON - dt.timedelta(minutes=1))


def test_one_sample_a_moment_but_for_its_correction():
    load = factories.PressLoadFactory()
    first = sample(load)
    second = sample(load, entered="101", corrects=first, reason="Misread")
    assert list(PressSample.objects.standing()) == [second]
    with pytest.raises(IntegrityError):
        sample(load)


def test_a_correction_says_why():
    first = sample(factories.PressLoadFactory())
    with pytest.raises(ValidationError, match="Say why"):
        PressSample(load=first.load, at=NOON, corrects=first).validate_constraints()


def test_loads_under_pressure_are_those_not_opened():
    still = factories.PressLoadFactory()
    factories.PressLoadFactory(off_at=NOON + dt.timedelta(days=1))
    assert list(PressLoad.objects.under_pressure()) == [still]


def test_whole_loads_bring_their_press(django_assert_num_queries):
    factories.PressLoadFactory(press__name="Long press")
    with django_assert_num_queries(1):
        [load] = PressLoad.objects.with_related()
        assert str(load.press) == "Long press"
        assert load.written_by.name
