"""What waits today: the right rows, in a constant number of queries."""

import datetime as dt

import pytest

from records.models import GlueSheetPoint, PressSample
from records.queries import today as waiting
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db
DAY = dt.date(2026, 3, 2)


def days(number):
    return DAY + dt.timedelta(days=number)


class TestGlueUps:
    def test_newest_mix_counts_and_joints_are_counted_once(self, shop):
        blank = factories.stacked_blank(3, state="gluing")
        first = factories.MixFactory(mixed_at=NOON, working_life_min=60)
        later = NOON + dt.timedelta(minutes=30)
        second = factories.MixFactory(mixed_at=later, working_life_min=60)
        for mix, side in ((first, "lower"), (second, "upper")):
            factories.JointSpreadFactory(blank=blank, joint=1, mix=mix, side=side)
        (result,) = waiting.glue_ups()
        assert (result.blank, result.closed) == (blank, 1)
        assert result.until == later + dt.timedelta(minutes=60)

    def test_unknown_working_life_gives_no_clock(self, shop):
        blank = factories.stacked_blank(3, state="gluing")
        mix = factories.MixFactory(working_life_min=None)
        factories.JointSpreadFactory(blank=blank, mix=mix)
        assert waiting.glue_ups()[0].until is None

    def test_two_queries_for_all(self, shop, django_assert_num_queries):
        for _ in range(20):
            blank = factories.stacked_blank(2, state="gluing")
            factories.JointSpreadFactory(blank=blank)
        factories.glued_blank(2)
        with django_assert_num_queries(2):
            assert len(waiting.glue_ups()) == 20


class TestLoads:
    def closed(self, celsius=20, hours=8):
        blank = factories.stacked_blank(2)
        factories.JointSpreadFactory(blank=blank)
        load = factories.LoadedBlankFactory(blank=blank).load
        for hour in range(hours + 1):
            PressSample.objects.create(
                load=load,
                at=load.on_at + dt.timedelta(hours=hour),
                entered="80",
                unit="bar",
                glue_line_pa=1.2e6,
                temperature_c=celsius,
                source="typed",
                written_at=NOON,
                written_by=load.written_by,
            )
        return load

    def test_earliest_opening_follows_the_makers_table(self, shop):
        # The invented sheet asks for 960 min at 20 °C: 16 h after pressure on.
        load = self.closed()
        assert GlueSheetPoint.objects.filter(
            quantity="press_time", temperature_c=20, minutes=960
        ).exists()
        (result,) = waiting.loads_under_pressure()
        assert result.opening_at is None
        sixteen = load.on_at + dt.timedelta(hours=16)
        assert abs((result.forecast_at - sixteen).total_seconds()) < 1
        assert result.fraction == pytest.approx(0.5)

    def test_opened_load_does_not_wait(self, shop):
        factories.glued_blank(2)
        assert waiting.loads_under_pressure() == []

    def test_five_queries_for_all(self, shop, django_assert_num_queries):
        for _ in range(6):
            self.closed(hours=2)
        with django_assert_num_queries(5):
            result = waiting.loads_under_pressure()
            assert {str(h.load.press) for h in result}
        assert [len(h.cures) for h in result] == [1] * 6


@pytest.mark.parametrize(("due", "waits"), [(-1, 1), (7, 1), (8, 0)])
def test_actions_wait_from_a_week_before(shop, due, waits):
    factories.CorrectiveActionFactory(due_on=days(due), look_on=days(90))
    assert len(waiting.actions_due(DAY)) == waits


@pytest.mark.parametrize(("look", "waits"), [(-1, 1), (0, 1), (1, 0)])
def test_effects_wait_from_their_day_until_looked_at(shop, look, waits):
    action = factories.CorrectiveActionFactory(
        due_on=days(-30), look_on=days(look), done_on=days(-20)
    )
    assert len(waiting.actions_due(DAY)) == waits
    factories.EffectivenessCheckFactory(action=action)
    assert waiting.actions_due(DAY) == []


@pytest.mark.parametrize(("due", "waits"), [(-1, 1), (30, 1), (31, 0)])
def test_gauges_wait_from_a_month_before(shop, due, waits):
    factories.CalibrationFactory(next_due_on=days(due), done_on=dt.date(2025, 1, 1))
    assert len(waiting.gauges_due(DAY)) == waits


def test_gauge_never_calibrated_waits_and_a_withdrawn_one_does_not(shop):
    never = factories.GaugeFactory()
    factories.GaugeFactory(state="withdrawn")
    assert waiting.gauges_due(DAY) == [never]


@pytest.mark.parametrize(("last", "waits"), [(-1, 1), (30, 1), (31, 0)])
def test_lots_wait_from_a_month_before_their_last_day(shop, last, waits):
    factories.ResinLotFactory(expires_on=days(last))
    factories.ResinLotFactory(expires_on=days(last), state="used_up")
    assert len(waiting.lots_expiring(DAY)) == waits


def test_each_list_holds_what_waits_only(shop):
    lot = factories.LotFactory(state="waiting")
    board = factories.BoardFactory(state="waiting")
    coupon = factories.CouponFactory()
    propeller = factories.PropellerFactory(state="released")
    deviation = factories.DeviationFactory()
    factories.DeviationFactory(state="closed")
    hold = factories.HoldFactory(mix=coupon.mix)
    factories.HoldFactory(mix=coupon.mix, deviation=deviation)
    tested = factories.CouponFactory()
    tested.tests.create(
        happened_at=NOON,
        method="chisel",
        wood_failure_pct=85,
        least_wood_failure_pct=80,
        verdict="passed",
        written_at=NOON,
        written_by=tested.written_by,
    )
    assert waiting.lots_to_check() == [lot]
    assert waiting.boards_to_inspect() == [board]
    assert waiting.coupons_to_break() == [coupon]
    assert waiting.released() == [propeller]
    assert waiting.deviations_open() == [deviation]
    assert waiting.holds_unexplained() == [hold]


def test_lists_are_bounded(shop):
    for _ in range(waiting.MOST + 5):
        factories.BoardFactory(state="waiting")
    assert len(waiting.boards_to_inspect()) == waiting.MOST + 1
