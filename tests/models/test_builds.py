import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError

from records.models import Blank, Propeller, StageEvent
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


def test_a_serial_is_in_the_book_once():
    factories.PropellerFactory(serial="TA-1")
    with pytest.raises(IntegrityError):
        factories.PropellerFactory(serial="TA-1")


def test_a_second_serial_is_refused_in_the_shops_words():
    first = factories.PropellerFactory(serial="TA-1")
    second = Propeller(serial="TA-1", blank=first.blank, revision=first.revision)
    with pytest.raises(ValidationError, match="No serial is ever used twice"):
        second.validate_unique()


@pytest.mark.parametrize("both", [True, False])
def test_a_note_is_about_one_thing(both):
    propeller = factories.PropellerFactory()
    subjects = {"blank": propeller.blank, "propeller": propeller} if both else {}
    event = StageEvent(
        stage=factories.StageFactory(), kind="note", happened_at=NOON, **subjects
    )
    with pytest.raises(ValidationError, match="one blank or one propeller"):
        event.validate_constraints()


def test_whole_rows_bring_design_and_route(django_assert_num_queries):
    factories.PropellerFactory()
    with django_assert_num_queries(2):
        for blank in Blank.objects.with_related():
            assert blank.revision.design.model
            assert blank.route.route.name
        for propeller in Propeller.objects.with_related():
            assert propeller.blank.route.route.name
            assert propeller.revision.design.model


def test_things_are_called_by_their_numbers():
    propeller = factories.PropellerFactory(serial="TA-1", blank__number="K1")
    assert (str(propeller), str(propeller.blank)) == ("TA-1", "K1")
