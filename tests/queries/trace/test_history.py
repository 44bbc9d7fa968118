"""From a serial to all it was made of, and from a material to every serial.

Both directions are what the traceability clause of the aviation quality standards asks
for (rules-and-standards, section 0, finding 8: identity for life; all products of one
batch and where each went; the parts of an assembly; a sequential record).
"""

import datetime as dt

import pytest

from records.models import Lamination, Ownership, PressSample, Propeller
from records.queries.trace.history import where_from, where_from_blank, where_to
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
    def test_boards_timber_mix_glue_and_load_are_found(self, propeller):
        factories.glued_blank(3)
        result = where_from(propeller)
        blank = propeller.blank
        mix = blank.spreads.first().mix
        assert [lam.position for lam in result.laminations] == [1, 2, 3]
        assert len(result.boards) == 3
        assert result.timber_lots == [result.boards[0].lot]
        assert [s.joint for s in result.spreads] == [1, 2]
        assert result.mixes == [mix]
        assert result.glue_lots == [mix.resin_lot, mix.hardener_lot]
        assert result.loads == [blank.loaded.get().load]

    def test_void_numbers_of_the_boards_explain_the_gap(self, propeller):
        board = propeller.blank.laminations.first().board
        void = factories.LaminationFactory(
            board=board, state=Lamination.State.VOID, void_reason="end check"
        )
        assert where_from(propeller).void_laminations == [void]

    def test_readings_at_every_level_and_their_gauges(self, propeller):
        gauge, press_gauge = factories.GaugeFactory(), factories.GaugeFactory()
        result = where_from(propeller)
        mine = [
            factories.ReadingFactory(gauge=gauge, **{"propeller": None} | subject)
            for subject in (
                {"lot": result.timber_lots[0]},
                {"board": result.boards[0]},
                {"lamination": result.laminations[0]},
                {"mix": result.mixes[0]},
                {"load": result.loads[0]},
                {"blank": result.blank},
                {"propeller": propeller},
            )
        ]
        factories.ReadingFactory()
        PressSample.objects.create(
            load=result.loads[0],
            at=NOON,
            entered="80",
            unit="bar",
            glue_line_pa=1.1e6,
            source="typed",
            gauge=press_gauge,
            written_at=NOON,
            written_by=propeller.written_by,
        )
        result = where_from(propeller)
        assert result.readings == mine
        assert result.gauges == [gauge, press_gauge]
        assert result.lowest_pa == {result.loads[0].pk: 1.1e6}

    def test_corrected_reading_stays_beside_the_one_that_corrects_it(self, propeller):
        wrong = factories.ReadingFactory(propeller=propeller, entered="103")
        right = factories.ReadingFactory(
            propeller=propeller, entered="10.3", corrects=wrong, reason="slip"
        )
        result = where_from(propeller).readings
        assert result == [wrong, right]
        assert result[0].corrected_by == right

    def test_repair_material_is_part_of_it(self, propeller):
        use = factories.MaterialUseFactory(propeller=propeller)
        result = where_from(propeller)
        assert result.uses == [use]
        assert result.used_lots == [use.lot]
        assert where_from_blank(propeller.blank).uses == []

    def test_signoffs_deviations_coupons_and_holds(self, propeller):
        mix = propeller.blank.spreads.first().mix
        coupon = factories.CouponFactory(mix=mix)
        signoff = factories.SignOffFactory(propeller=propeller)
        deviation = factories.DeviationFactory()
        factories.DeviationSubjectFactory(deviation=deviation, coupon=coupon)
        hold = factories.HoldFactory(coupon=coupon, deviation=deviation)
        factories.DeviationSubjectFactory(propeller=factories.PropellerFactory())
        result = where_from(propeller)
        assert (result.coupons, result.signoffs) == ([coupon], [signoff])
        assert (result.deviations, result.holds) == ([deviation], [hold])

    def test_queries_do_not_grow_with_what_was_found(
        self, propeller, django_assert_num_queries
    ):
        gauge = factories.GaugeFactory()
        for _ in range(20):
            factories.ReadingFactory(propeller=propeller, gauge=gauge)
            factories.SignOffFactory(propeller=propeller)
            factories.MaterialUseFactory(propeller=propeller)
            factories.CouponFactory(mix=propeller.blank.spreads.first().mix)
        factories.HoldFactory(propeller=propeller)
        propeller = Propeller.objects.select_related("blank").get(pk=propeller.pk)
        with django_assert_num_queries(14):
            result = where_from(propeller)
            names = [str(r.subject) for r in result.readings]
            names += [str(s.subject) for s in result.signoffs]
            names += [str(b.lot.supplier) for b in result.boards]
            names += [str(lot.material) for lot in result.glue_lots]
            names += [str(c.mix) + str(list(c.tests.all())) for c in result.coupons]
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
