"""What a part came from names each thing once, in the order of use."""

import pytest

from records.queries.provenance.origin import each_once
from records.queries.trace.history import where_from
from tests import factories

pytestmark = pytest.mark.django_db


def test_each_thing_once_in_order():
    first, second = factories.LotFactory(), factories.LotFactory()
    assert each_once([second, first, second]) == [second, first]


def test_mix_without_hardener_lot_has_one_glue_lot():
    blank = factories.stacked_blank(2)
    mix = factories.MixFactory(hardener_lot=None)
    factories.JointSpreadFactory(blank=blank, mix=mix)
    result = where_from(factories.PropellerFactory(blank=blank))
    assert result.glue_lots == [mix.resin_lot]


def test_keys_name_everything_a_record_may_be_about():
    propeller = factories.PropellerFactory(blank=factories.glued_blank(3))
    use = factories.MaterialUseFactory(propeller=propeller)
    keys = where_from(propeller).keys
    assert keys["propeller"] == [propeller.pk]
    assert use.lot_id in keys["lot"]
    assert len(keys["lot"]) == 4  # timber, resin, hardener, edge
    assert (len(keys["board"]), len(keys["load"])) == (3, 1)
