"""What can never be false of limits, and which of them have begun."""

import datetime as dt

import pytest
from django.db import IntegrityError, transaction

from records.models import Limit
from tests import factories

pytestmark = pytest.mark.django_db


def refused(make, name):
    with pytest.raises(IntegrityError, match=name), transaction.atomic():
        make()


def test_a_limit_has_a_side_and_its_sides_are_in_order():
    refused(lambda: factories.LimitFactory(low=None, high=None), "limit_has_a_side")
    refused(lambda: factories.LimitFactory(low=3, high=2), "limit_sides_in_order")
    assert factories.LimitFactory(low=2, high=2)


def test_a_limit_revision_is_used_once_for_all_and_once_a_design():
    limit = factories.LimitFactory(number=1)
    design = factories.RevisionFactory()
    characteristic = limit.characteristic
    factories.LimitFactory(
        characteristic=characteristic, number=1, design_revision=design
    )
    refused(
        lambda: factories.LimitFactory(characteristic=characteristic),
        "characteristic_id",
    )
    refused(
        lambda: factories.LimitFactory(
            characteristic=characteristic, design_revision=design
        ),
        "characteristic_id",
    )


def test_limits_in_force_are_those_begun_the_newest_first():
    characteristic = factories.CharacteristicFactory()
    start = factories.NOON
    old = factories.LimitFactory(characteristic=characteristic, in_force_from=start)
    later = start + dt.timedelta(days=1)
    new = factories.LimitFactory(
        characteristic=characteristic, number=2, in_force_from=later
    )
    limits = Limit.objects.filter(characteristic=characteristic)
    assert list(limits.in_force(start)) == [old]
    assert list(limits.in_force(later)) == [new, old]
    assert not limits.in_force(start - dt.timedelta(seconds=1))
