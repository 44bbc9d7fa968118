"""What can never be false of signatures and of refused attempts."""

import pytest
from django.db import IntegrityError, transaction

from records.models import RefusedSignature
from tests import factories

pytestmark = pytest.mark.django_db


def test_a_signature_is_on_exactly_one_thing():
    blank = factories.BlankFactory()
    for about in ({"propeller": None}, {"blank": blank}):
        with (
            pytest.raises(IntegrityError, match="signoff_has_one_subject"),
            transaction.atomic(),
        ):
            factories.SignOffFactory(**about)
    assert factories.SignOffFactory(propeller=None, blank=blank).subject == blank


def test_a_refused_attempt_is_on_exactly_one_thing():
    person = factories.PersonFactory()
    with (
        pytest.raises(IntegrityError, match="refusal_has_one_subject"),
        transaction.atomic(),
    ):
        RefusedSignature.objects.create(
            stage=factories.StageFactory(),
            happened_at=factories.NOON,
            why="No authority.",
            written_by=person,
            written_at=factories.NOON,
        )


def test_a_signature_is_spelled_by_name_and_meaning():
    signoff = factories.SignOffFactory(printed_name="Ada", meaning="Inspected")
    assert str(signoff) == "Ada: Inspected"
