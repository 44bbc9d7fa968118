"""May this material be put on this part?"""

import datetime as dt

import pytest

from records.rules.builds.uses import material_may_be_used
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


def test_sound_lot_on_a_part_in_work():
    lot, propeller = factories.LotFactory(), factories.PropellerFactory()
    assert material_may_be_used(lot, propeller, "tip", NOON) == []


@pytest.mark.parametrize("state", ["scrapped", "retired"])
def test_nothing_goes_on_what_is_out_of_use(state):
    propeller = factories.PropellerFactory(state=state)
    lot = factories.LotFactory()
    assert len(material_may_be_used(lot, propeller, "tip", NOON)) == 1


def test_mix_may_be_used_from_when_it_was_made():
    mix, blank = factories.MixFactory(), factories.BlankFactory()
    minute = dt.timedelta(minutes=1)
    assert material_may_be_used(mix, blank, "tip", mix.mixed_at) == []
    assert len(material_may_be_used(mix, blank, "tip", mix.mixed_at - minute)) == 1
