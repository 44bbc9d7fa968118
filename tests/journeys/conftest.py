"""The invented shop, opened once for all the situations of a file."""

import copy

import pytest
from django.db import transaction
from django.test import override_settings

from tests.journeys.told import BEGINS, Told


@pytest.fixture(scope="module")
def begins():
    """Say when the shop opens its book: what happens has happened since."""
    return BEGINS


@pytest.fixture(scope="module")
def opened(begins, django_db_setup, django_db_blocker):
    """Open the shop: people, gauges, glue, designs, a route and a press."""
    quick = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    with django_db_blocker.unblock(), transaction.atomic():
        with override_settings(PASSWORD_HASHERS=quick):
            shop = Told(begins)
        yield shop
        transaction.set_rollback(True)


@pytest.fixture
def told(opened, db):
    """Give the shop as it was opened: no situation sees what another one did."""
    return copy.deepcopy(opened)
