"""What can never be false of material put on later."""

import pytest
from django.db import IntegrityError, transaction

from tests import factories

pytestmark = pytest.mark.django_db


def refused(name, **fields):
    with pytest.raises(IntegrityError, match=name), transaction.atomic():
        factories.MaterialUseFactory(**fields)


def test_one_material_a_use(shop):
    mix = factories.MixFactory()
    refused("one_material_a_use", mix=mix)
    refused("one_material_a_use", lot=None)
    assert factories.MaterialUseFactory(lot=None, mix=mix).pk


def test_on_one_thing(shop):
    blank = factories.BlankFactory()
    refused("material_used_on_one_thing", blank=blank)
    refused("material_used_on_one_thing", propeller=None)
    use = factories.MaterialUseFactory(propeller=None, blank=blank, place="plug")
    assert str(use) == "plug"
