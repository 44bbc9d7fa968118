import datetime as dt
from decimal import Decimal

import pytest

from records.models import Lot, Mix
from records.queries.gluing.times import table_of
from records.rules.gluing import mixing
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


@pytest.fixture
def mix():
    sheet = factories.GlueSheetFactory()
    return Mix(
        sheet=sheet,
        resin_lot=factories.ResinLotFactory(material=sheet.adhesive),
        hardener_lot=factories.HardenerLotFactory(material=sheet.hardener),
        resin_g=Decimal(500),
        hardener_g=Decimal(100),
        mixed_at=NOON,
        temperature_c=Decimal(20),
    )


def warned(mix):
    return mixing.mix_as_the_sheet_asks(mix, table_of(mix.sheet.pk), mix.sheet.revision)


def test_a_good_mix_has_nothing_against_it(mix):
    assert mixing.mix_is_possible(mix, NOON) == []
    assert warned(mix) == []


def test_everything_impossible_is_said_at_once(mix):
    mix.resin_g = Decimal(0)
    mix.hardener_g = Decimal(-1)
    mix.temperature_c = Decimal(99)
    mix.resin_lot.state = Lot.State.REFUSED
    fields = {f.field for f in mixing.mix_is_possible(mix, NOON)}
    assert fields == {"resin_g", "hardener_g", "temperature_c", "resin_lot"}


@pytest.mark.parametrize(
    ("hardener", "flagged"), [(89, True), (90, False), (110, False), (111, True)]
)
def test_the_ratio_is_judged_exactly_and_both_edges_are_inside(mix, hardener, flagged):
    mix.hardener_g = Decimal(hardener)
    assert bool(warned(mix)) is flagged


def test_a_ratio_without_a_range_names_one_figure(mix):
    mix.sheet.parts_low = mix.sheet.parts_high = Decimal("20.000")
    mix.hardener_g = Decimal(105)
    [finding] = warned(mix)
    assert "21 parts" in finding.sentence
    assert "asks for 20." in finding.sentence


def test_the_last_day_of_use_counts(mix):
    lot = mix.resin_lot
    lot.expires_on = NOON.date()
    assert mixing.lot_in_date(lot, NOON, "resin_lot") == []
    late = NOON + dt.timedelta(days=1)
    [finding] = mixing.lot_in_date(lot, late, "resin_lot")
    assert not finding.blocks
    assert finding.field == "resin_lot"


def test_the_day_is_the_shops(mix, settings):
    settings.TIME_ZONE = "Pacific/Auckland"
    mix.resin_lot.expires_on = NOON.date()
    assert mixing.lot_in_date(mix.resin_lot, NOON, "resin_lot")


def test_a_used_up_container_is_flagged(mix):
    mix.resin_lot.state = Lot.State.USED_UP
    assert mixing.mix_is_possible(mix, NOON) == []
    assert "used up" in warned(mix)[0].sentence


def test_a_sheet_without_a_working_life_says_so(mix):
    sheet = factories.GlueSheetFactory(points={})
    [finding] = mixing.temperature_in_table(table_of(sheet.pk), Decimal(20))
    assert finding.sentence == "The sheet gives no working life."


def test_a_hardener_for_a_glue_that_takes_none_is_refused(mix):
    mix.sheet.hardener = None
    [finding] = mixing.mix_is_possible(mix, NOON)
    assert "takes no hardener" in finding.sentence


def test_held_lots_are_named_in_one_look(mix, django_assert_max_num_queries):
    factories.HoldFactory(lot=mix.resin_lot, reason="Smells odd")
    with django_assert_max_num_queries(3):
        [finding] = mixing.lots_held(mix)
    assert "Smells odd" in finding.sentence
    assert not finding.blocks
