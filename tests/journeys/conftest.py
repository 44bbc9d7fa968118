"""The invented shop, opened once for all the situations of a file."""

import copy

import pytest
from django.db import transaction

from tests.journeys.told import Told


@pytest.fixture(scope="module")
def opened(django_db_setup, django_db_blocker):
    """Open the shop: people, gauges, glue, designs, a route and a press."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield Told()
        transaction.set_rollback(True)


@pytest.fixture
def told(opened, db):
    """Give the shop as it was opened: no situation sees what another one did."""
    return copy.deepcopy(opened)
