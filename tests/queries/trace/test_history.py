"""From a serial to all it was made of, and from a material to every serial.

Both directions are what the traceability clause of the aviation quality standards asks
for (rules-and-standards, section 0, finding 8: identity for life; all products of one
batch and where each went; the parts of an assembly; a sequential record).
"""

import datetime as dt

import pytest

from records.models import Ownership, Propeller
from records.queries.trace.history import where_from, where_to
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(shop):
    blank = factories.glued_blank(laminations=3)
    return factories.PropellerFactory(blank=blank)


def hand_over(propeller, name, days=0):
    return Ownership.objects.create(
        propeller=propeller,
        owner=factories.OwnerFactory(name=name),
        happened_at=NOON + dt.timedelta(days=days),
        written_at=NOON,
        written_by=propeller.written_by,
    )


class TestWhereFrom:
    def test_all_it_is_made_of_and_all_that_was_seen_of_any_part(self, propeller):
        gauge, press_gauge = factories.GaugeFactory(), factories.GaugeFactory()
        mix = propeller.blank.spreads.first().mix
        coupon = factories.CouponFactory(mix=mix)
        signoff = factories.SignOffFactory(propeller=propeller)
        reading = factories.ReadingFactory(propeller=None, coupon=coupon, gauge=gauge)
        load = propeller.blank.loaded.get().load
        factories.PressSampleFactory(load=load, glue_line_pa=1.1e6, gauge=press_gauge)
        history = where_from(propeller)
        assert history.made.coupons == [coupon]
        assert history.written.signoffs == [signoff]
        assert history.written.readings == [reading]
        assert history.gauges == [gauge, press_gauge]
        assert history.written.pressed[load.pk].lowest_pa == 1.1e6

    def test_a_hold_on_any_part_reaches_it(self, propeller):
        mix = propeller.blank.spreads.first().mix
        coupon = factories.CouponFactory(mix=mix)
        deviation = factories.DeviationFactory()
        factories.DeviationSubjectFactory(deviation=deviation, coupon=coupon)
        hold = factories.HoldFactory(coupon=coupon, deviation=deviation)
        history = where_from(propeller)
        assert (history.written.deviations, history.holds) == ([deviation], [hold])
        assert where_from(propeller.blank).holds == [hold]

    def test_queries_do_not_grow_with_what_is_there(
        self, propeller, django_assert_num_queries
    ):
        gauge = factories.GaugeFactory()
        for _ in range(20):
            factories.ReadingFactory(propeller=propeller, gauge=gauge)
            factories.SignOffFactory(propeller=propeller)
            factories.MaterialUseFactory(propeller=propeller)
            factories.CouponFactory(mix=propeller.blank.spreads.first().mix)
        factories.HoldFactory(propeller=propeller)
        with django_assert_num_queries(20):
            history = where_from(propeller)
            made, written = history.made, history.written
            names = [str(r.subject) for r in written.readings]
            names += [str(s.subject) for s in written.signoffs]
            names += [str(b.lot.supplier) for b in made.boards]
            names += [str(lot.material) for lot in made.glue_lots]
            names += [str(c.mix) + str(list(c.tests.all())) for c in made.coupons]
        assert len(names) > 60


class TestWhereTo:
    def test_one_blank_with_two_propellers(self, propeller):
        sister = factories.PropellerFactory(blank=propeller.blank)
        lot = propeller.blank.laminations.first().board.lot
        result = where_to("lot", lot.pk)
        assert result.blanks == [propeller.blank]
        assert [d.pk for d in result.propellers] == [propeller.pk, sister.pk]

    def test_destination_names_state_and_last_owner(self, propeller):
        factories.PropellerFactory(blank=propeller.blank)
        hand_over(propeller, "First Owner")
        hand_over(propeller, "Second Owner", days=90)
        Propeller.objects.filter(pk=propeller.pk).update(state="delivered")
        mix = propeller.blank.spreads.first().mix
        delivered, in_work = where_to("mix", mix.pk).propellers
        assert (delivered.owner, delivered.state_name) == ("Second Owner", "delivered")
        assert not delivered.in_shop
        assert (in_work.owner, in_work.in_shop) == ("", True)

    def test_repair_material_counts(self, propeller):
        use = factories.MaterialUseFactory(propeller=propeller)
        result = where_to("lot", use.lot.pk)
        assert result.blanks == []
        assert [d.serial for d in result.propellers] == [propeller.serial]

    def test_scrapped_serials_stay_searchable(self, shop):
        blank = factories.glued_blank(3)
        scrapped = factories.PropellerFactory(
            blank=blank, state=Propeller.State.SCRAPPED
        )
        board = blank.laminations.first().board
        (result,) = where_to("board", board.pk).propellers
        assert (result.pk, result.state_name) == (scrapped.pk, "scrapped")

    @pytest.mark.parametrize("kind", ["lot", "mix", "load", "gauge"])
    def test_two_queries_whatever_the_number(
        self, kind, propeller, django_assert_num_queries
    ):
        mix = propeller.blank.spreads.first().mix
        for _ in range(20):
            factories.PropellerFactory(blank=factories.glued_blank(3, mix=mix))
        gauge = factories.GaugeFactory()
        factories.ReadingFactory(propeller=None, mix=mix, gauge=gauge)
        load = propeller.blank.loaded.get().load
        lot = mix.resin_lot
        thing = {"lot": lot, "mix": mix, "load": load, "gauge": gauge}[kind]
        with django_assert_num_queries(2):
            result = where_to(kind, thing.pk)
            assert [str(b.revision.design) for b in result.blanks]
        assert len(result.propellers) == (1 if kind == "load" else 21)
