"""Material put on after glue-up is part of the history, both ways."""

import datetime as dt

import pytest

from records.models import MaterialUse
from records.queries.trace.history import where_from, where_to
from records.services.builds.uses import use_material
from records.services.refusal import Refusal
from tests import factories

pytestmark = pytest.mark.django_db


def used(act, part, material, **kwargs):
    words = {"place": "leading edge, blade 1", "happened_at": act.at}
    return use_material(act=act, part=part, material=material, **words | kwargs)


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory(serial="2019-004")


def test_repair_lot_is_traced_both_ways(act, propeller):
    lot = factories.LotFactory()
    use = used(act, propeller, lot)
    assert where_from(propeller).made.uses == [use]
    assert [d.serial for d in where_to("lot", lot.pk).propellers] == ["2019-004"]


def test_mix_used_for_a_repair_leads_to_its_glue_lots(act, propeller):
    mix = factories.MixFactory()
    used(act, propeller, mix)
    assert where_from(propeller).made.glue_lots == [mix.resin_lot, mix.hardener_lot]
    (result,) = where_to("lot", mix.hardener_lot.pk).propellers
    assert result.serial == "2019-004"


def test_material_on_a_blank(act, propeller):
    lot = factories.LotFactory()
    used(act, propeller.blank, lot)
    assert where_to("lot", lot.pk).blanks == [propeller.blank]


@pytest.mark.parametrize(
    ("lot", "sentence"),
    [
        ({"state": "refused"}, "is refused"),
        ({"expires_on": dt.date(2026, 2, 1)}, "usable until"),
    ],
)
def test_unfit_lot_is_refused(act, propeller, lot, sentence):
    with pytest.raises(Refusal, match=sentence):
        used(act, propeller, factories.LotFactory(**lot))
    assert not MaterialUse.objects.exists()


def test_held_material_scrapped_part_and_no_place_are_said_at_once(act):
    scrapped = factories.PropellerFactory(serial="SN-099", state="scrapped")
    lot = factories.LotFactory()
    factories.HoldFactory(lot=lot, reason="wrong species")
    with pytest.raises(Refusal) as refusal:
        used(act, scrapped, lot, place=" ")
    first, second, third = [f.sentence for f in refusal.value.findings]
    assert (first, second) == (
        "Say where, and for what.",
        "Propeller SN-099 is scrapped.",
    )
    assert "is on hold since 2 Mar 2026: wrong species" in third


def test_mix_made_later_is_refused(act, propeller):
    mix = factories.MixFactory(mixed_at=act.at)
    with pytest.raises(Refusal) as refusal:
        used(act, propeller, mix, happened_at=act.at - dt.timedelta(hours=1))
    assert [f.field for f in refusal.value.findings] == ["happened_at"]
