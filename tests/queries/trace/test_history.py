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
        found = where_from(propeller)
        blank = propeller.blank
        mix = blank.spreads.first().mix
        assert [lam.position for lam in found.laminations] == [1, 2, 3]
        assert len(found.boards) == 3
        assert found.timber_lots == [found.boards[0].lot]
        assert [s.joint for s in found.spreads] == [1, 2]
        assert found.mixes == [mix]
        assert found.glue_lots == [mix.resin_lot, mix.hardener_lot]
        assert found.loads == [blank.loaded.get().load]

    def test_void_numbers_of_the_boards_explain_the_gap(self, propeller):
        board = propeller.blank.laminations.first().board
        void = factories.LaminationFactory(
            board=board, state=Lamination.State.VOID, void_reason="end check"
        )
        assert where_from(propeller).void_laminations == [void]

    def test_readings_at_every_level_and_their_gauges(self, propeller):
        gauge, press_gauge = factories.GaugeFactory(), factories.GaugeFactory()
        found = where_from(propeller)
        mine = [
            factories.ReadingFactory(gauge=gauge, **{"propeller": None} | subject)
            for subject in (
                {"lot": found.timber_lots[0]},
                {"board": found.boards[0]},
                {"lamination": found.laminations[0]},
                {"mix": found.mixes[0]},
                {"load": found.loads[0]},
                {"blank": found.blank},
                {"propeller": propeller},
            )
        ]
        factories.ReadingFactory()
        PressSample.objects.create(
            load=found.loads[0],
            at=NOON,
            entered="80",
            unit="bar",
            glue_line_pa=1.1e6,
            source="typed",
            gauge=press_gauge,
            written_at=NOON,
            written_by=propeller.written_by,
        )
        found = where_from(propeller)
        assert found.readings == mine
        assert found.gauges == [gauge, press_gauge]
        assert found.lowest_pa == {found.loads[0].pk: 1.1e6}

    def test_corrected_reading_stays_beside_the_one_that_corrects_it(self, propeller):
        wrong = factories.ReadingFactory(propeller=propeller, entered="103")
        right = factories.ReadingFactory(
            propeller=propeller, entered="10.3", corrects=wrong, reason="slip"
        )
        found = where_from(propeller).readings
        assert found == [wrong, right]
        assert found[0].corrected_by == right

    def test_repair_material_is_part_of_it(self, propeller):
        use = factories.MaterialUseFactory(propeller=propeller)
        found = where_from(propeller)
        assert found.uses == [use]
        assert found.used_lots == [use.lot]
        assert where_from_blank(propeller.blank).uses == []

    def test_signoffs_deviations_coupons_and_holds(self, propeller):
        mix = propeller.blank.spreads.first().mix
        coupon = factories.CouponFactory(mix=mix)
        signoff = factories.SignOffFactory(propeller=propeller)
        deviation = factories.DeviationFactory()
        factories.DeviationSubjectFactory(deviation=deviation, coupon=coupon)
        hold = factories.HoldFactory(coupon=coupon, deviation=deviation)
        factories.DeviationSubjectFactory(propeller=factories.PropellerFactory())
        found = where_from(propeller)
        assert (found.coupons, found.signoffs) == ([coupon], [signoff])
        assert (found.deviations, found.holds) == ([deviation], [hold])

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
            found = where_from(propeller)
            names = [str(r.subject) for r in found.readings]
            names += [str(s.subject) for s in found.signoffs]
            names += [str(b.lot.supplier) for b in found.boards]
            names += [str(lot.material) for lot in found.glue_lots]
            names += [str(c.mix) + str(list(c.tests.all())) for c in found.coupons]
        assert len(names) > 60


class TestWhereTo:
    def test_one_blank_with_two_propellers(self, propeller):
        sister = factories.PropellerFactory(blank=propeller.blank)
        lot = propeller.blank.laminations.first().board.lot
        found = where_to("lot", lot.pk)
        assert found.blanks == [propeller.blank]
        assert [d.pk for d in found.propellers] == [propeller.pk, sister.pk]

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
        found = where_to("lot", use.lot.pk)
        assert found.blanks == []
        assert [d.serial for d in found.propellers] == [propeller.serial]

    def test_scrapped_serials_stay_searchable(self, shop):
        blank = factories.glued_blank(3)
        scrapped = factories.PropellerFactory(
            blank=blank, state=Propeller.State.SCRAPPED
        )
        board = blank.laminations.first().board
        (found,) = where_to("board", board.pk).propellers
        assert (found.pk, found.state_name) == (scrapped.pk, "scrapped")

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
            found = where_to(kind, thing.pk)
            assert [str(b.revision.design) for b in found.blanks]
        assert len(found.propellers) == (1 if kind == "load" else 21)
