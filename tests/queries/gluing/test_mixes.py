import datetime as dt

import pytest

from records.models import Blank
from records.queries.gluing import mixes as gluing
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db
HOUR = dt.timedelta(hours=1)


def test_the_newest_sheet_of_each_glue_in_use():
    old = factories.GlueSheetFactory()
    new = factories.GlueSheetFactory(adhesive=old.adhesive, revision=2)
    factories.GlueSheetFactory(adhesive__in_use=False)
    assert list(gluing.sheets_in_force()) == [new]
    assert gluing.newest_sheet(old) == 2


def test_only_accepted_lots_of_a_kind_are_offered():
    good = factories.ResinLotFactory()
    factories.ResinLotFactory(state="waiting")
    factories.HardenerLotFactory()
    assert list(gluing.glue_lots("adhesive")) == [good]


def test_the_list_counts_standing_joints_and_coupons(django_assert_num_queries):
    mix = factories.MixFactory()
    blank = factories.glued_blank(4, mix=mix)
    first = blank.spreads.first()
    factories.JointSpreadFactory(
        blank=blank, joint=1, mix=mix, corrects=first, reason="Clock misread"
    )
    factories.CouponFactory(mix=mix)
    with django_assert_num_queries(1):
        [result] = gluing.mixes_listed()
        assert (result.joints, result.coupons_made) == (3, 1)
        assert result.sheet.adhesive.name


def test_a_next_joint_may_take_the_mixes_of_the_day_and_those_in_the_blank():
    used = factories.MixFactory(mixed_at=NOON - 30 * HOUR)
    blank = factories.BlankFactory()
    factories.JointSpreadFactory(
        blank=blank, mix=used, spread_at=NOON - 29 * HOUR, closed_at=NOON - 29 * HOUR
    )
    today = factories.MixFactory(mixed_at=NOON - HOUR)
    factories.MixFactory(mixed_at=NOON - 30 * HOUR, written_at=NOON - 29 * HOUR)
    factories.MixFactory(mixed_at=NOON + HOUR)
    assert gluing.mixes_for(blank, NOON) == [used, today]


def test_a_mix_kept_on_paper_and_written_down_today_may_be_taken():
    late = factories.MixFactory(mixed_at=NOON - 70 * HOUR, written_at=NOON - HOUR)
    assert gluing.mixes_for(factories.BlankFactory(), NOON) == [late]


def test_what_stands_and_all_that_was_ever_written():
    blank = factories.BlankFactory()
    old = factories.JointSpreadFactory(blank=blank, joint=2)
    new = factories.JointSpreadFactory(
        blank=blank, joint=1, mix=old.mix, corrects=old, reason="Wrong joint"
    )
    assert gluing.joints_of(blank) == [new]
    assert gluing.corrected_joints(blank) == [old]
    assert gluing.joints_closed(blank) == {1}
    assert gluing.joints_with(old.mix) == [new]


def test_grams_are_those_weighed_and_standing():
    old = factories.JointSpreadFactory(spread_g=50)
    new = factories.JointSpreadFactory(
        mix=old.mix, spread_g=60, corrects=old, reason="Scale misread"
    )
    factories.JointSpreadFactory(mix=old.mix)
    assert gluing.grams_spread(old.mix) == {new.pk: 60.0}


def test_when_pressure_went_on_a_blank():
    blank = factories.BlankFactory()
    for hours in (5, 1):
        factories.LoadedBlankFactory(blank=blank, load__on_at=NOON + hours * HOUR)
    assert gluing.pressures_on(blank) == [NOON + HOUR, NOON + 5 * HOUR]


def test_blanks_in_glue_up():
    blank = factories.stacked_blank(3, state=Blank.State.GLUING)
    factories.BlankFactory()
    assert list(gluing.blanks_in_glue_up()) == [blank]


def test_coupons_of_a_mix_come_with_their_tests(django_assert_num_queries):
    coupon = factories.CouponFactory()
    with django_assert_num_queries(2):
        [result] = gluing.coupons_of(coupon.mix)
        assert list(result.tests.all()) == []
