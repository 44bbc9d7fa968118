"""A hold is one row; who it reaches is asked of the rows that say what went where.

That a suspect batch must lead to every product made of it is the traceability clause
of the quality standards for aviation (rules-and-standards, section 0, finding 8).
"""

import datetime as dt

import pytest

from records.models import HoldRelease, JointSpread, Lamination, PressSample
from records.queries.reach.holds import (
    held_blanks,
    held_propellers,
    holds_for,
    holds_on,
)
from tests import factories
from tests.factories import NOON, HoldFactory

pytestmark = pytest.mark.django_db
HOUR = dt.timedelta(hours=1)


@pytest.fixture(
    params=[200, 0], ids=["from the things", "from the holds"], autouse=True
)
def side(request, monkeypatch):
    """Ask from either side: both give the same answer."""
    monkeypatch.setattr("records.queries.reach.holds.A_FEW", request.param)


@pytest.fixture
def made(shop):
    """One propeller with all that it is made of, and one made of other things."""
    blank = factories.glued_blank(laminations=3)
    spread = blank.spreads.select_related("mix").first()
    lamination = blank.laminations.select_related("board__lot").first()
    return {
        "blank": blank,
        "propeller": factories.PropellerFactory(blank=blank),
        "mix": spread.mix,
        "resin": spread.mix.resin_lot,
        "hardener": spread.mix.hardener_lot,
        "lamination": lamination,
        "board": lamination.board,
        "timber": lamination.board.lot,
        "load": blank.loaded.get().load,
        "coupon": factories.CouponFactory(mix=spread.mix),
        "other": factories.PropellerFactory(blank=factories.glued_blank(3)),
    }


COLUMN = {"resin": "lot", "hardener": "lot", "timber": "lot"}
MATERIALS = (
    "blank",
    "mix",
    "resin",
    "hardener",
    "lamination",
    "board",
    "timber",
    "load",
    "coupon",
)


@pytest.mark.parametrize("material", MATERIALS)
def test_hold_on_any_material_reaches_blank_and_propeller(made, material):
    hold = HoldFactory(**{COLUMN.get(material, material): made[material]})
    assert holds_on("blank", made["blank"].pk) == [hold]
    assert holds_on("propeller", made["propeller"].pk) == [hold]
    assert holds_on("propeller", made["other"].pk) == []
    assert holds_on("blank", made["other"].blank_id) == []


def test_hold_on_a_propeller_leaves_its_blank_and_its_sisters(made):
    sister = factories.PropellerFactory(blank=made["blank"])
    hold = HoldFactory(propeller=made["propeller"])
    assert holds_on("propeller", made["propeller"].pk) == [hold]
    assert holds_on("propeller", sister.pk) == []
    assert holds_on("blank", made["blank"].pk) == []


def test_hold_on_a_joint_reaches_its_blank_only(made):
    hold = HoldFactory(blank=made["blank"], joint=1)
    assert holds_on("propeller", made["propeller"].pk) == [hold]
    assert holds_on("mix", made["mix"].pk) == []


@pytest.mark.parametrize(
    ("held", "kind", "reached"),
    [
        ("timber", "board", "board"),
        ("timber", "lamination", "lamination"),
        ("board", "lamination", "lamination"),
        ("resin", "mix", "mix"),
        ("hardener", "mix", "mix"),
        ("hardener", "coupon", "coupon"),
        ("coupon", "mix", "mix"),
        ("mix", "coupon", "coupon"),
        ("load", "load", "load"),
    ],
)
def test_hold_reaches_what_lies_between(made, held, kind, reached):
    hold = HoldFactory(**{COLUMN.get(held, held): made[held]})
    assert holds_on(kind, made[reached].pk) == [hold]


def test_second_mix_made_half_way_reaches_only_by_its_own_joints(made):
    second = factories.MixFactory()
    blank = factories.stacked_blank(3)
    factories.JointSpreadFactory(blank=blank, joint=1, mix=made["mix"])
    factories.JointSpreadFactory(
        blank=blank, joint=2, mix=made["mix"], side=JointSpread.Side.LOWER
    )
    factories.JointSpreadFactory(
        blank=blank, joint=2, mix=second, side=JointSpread.Side.UPPER
    )
    hold = HoldFactory(mix=second)
    assert holds_on("blank", blank.pk) == [hold]
    assert holds_on("blank", made["blank"].pk) == []


def test_corrected_joint_no_longer_reaches(made):
    wrong = factories.JointSpreadFactory(joint=1, mix=made["mix"])
    right = factories.JointSpreadFactory(
        blank=wrong.blank, joint=1, corrects=wrong, reason="other mix"
    )
    HoldFactory(mix=made["mix"])
    kept = HoldFactory(mix=right.mix)
    assert holds_on("blank", wrong.blank_id) == [kept]


def test_void_lamination_no_longer_reaches(made):
    board = factories.BoardFactory()
    factories.LaminationFactory(
        board=board,
        blank=made["blank"],
        position=1,
        state=Lamination.State.VOID,
        void_reason="end check",
    )
    HoldFactory(board=board)
    assert holds_on("blank", made["blank"].pk) == []


def test_released_hold_reaches_nothing(made):
    hold = HoldFactory(mix=made["mix"])
    HoldRelease.objects.create(
        hold=hold,
        happened_at=NOON,
        reason="twin passed",
        written_at=NOON,
        written_by=hold.written_by,
    )
    assert holds_on("propeller", made["propeller"].pk) == []
    assert not held_propellers().exists()


def test_repair_material_reaches_the_propeller_it_was_put_on(made):
    use = factories.MaterialUseFactory(propeller=made["other"])
    mix = factories.MixFactory()
    factories.MaterialUseFactory(lot=None, mix=mix, propeller=made["other"])
    lot_hold, mix_hold = HoldFactory(lot=use.lot), HoldFactory(lot=mix.resin_lot)
    assert holds_on("propeller", made["other"].pk) == [lot_hold, mix_hold]
    assert holds_on("blank", made["other"].blank_id) == []


class TestGauge:
    """A hold on a gauge reaches what was measured with it, in the hold's span."""

    def reading(self, gauge, hours, **subject):
        return factories.ReadingFactory(
            **{"propeller": None} | subject,
            gauge=gauge,
            happened_at=NOON + hours * HOUR,
        )

    def test_reading_on_a_board_reaches_its_propellers(self, made):
        gauge = factories.GaugeFactory()
        self.reading(gauge, 0, board=made["board"])
        hold = HoldFactory(gauge=gauge)
        assert holds_on("propeller", made["propeller"].pk) == [hold]
        assert holds_on("board", made["board"].pk) == [hold]
        assert holds_on("gauge", gauge.pk) == [hold]
        assert holds_on("propeller", made["other"].pk) == []

    @pytest.mark.parametrize(("hours", "reaches"), [(-3, 0), (-1, 1), (0, 1), (1, 0)])
    def test_only_readings_of_its_span_count(self, made, hours, reaches):
        gauge = factories.GaugeFactory()
        self.reading(gauge, hours, propeller=made["propeller"])
        HoldFactory(gauge=gauge, readings_from=NOON - 2 * HOUR, readings_until=NOON)
        assert len(holds_on("propeller", made["propeller"].pk)) == reaches

    def test_corrected_reading_does_not_count(self, made):
        gauge = factories.GaugeFactory()
        wrong = self.reading(gauge, 0, propeller=made["propeller"])
        factories.ReadingFactory(
            propeller=made["propeller"], corrects=wrong, reason="other gauge"
        )
        HoldFactory(gauge=gauge)
        assert holds_on("propeller", made["propeller"].pk) == []

    @pytest.mark.parametrize(("hours", "reaches"), [(-3, 0), (-1, 1)])
    def test_press_sample_reaches_the_blanks_of_the_load(self, made, hours, reaches):
        gauge = factories.GaugeFactory()
        PressSample.objects.create(
            load=made["load"],
            at=NOON + hours * HOUR,
            entered="80",
            unit="bar",
            glue_line_pa=1.2e6,
            source="typed",
            gauge=gauge,
            written_at=NOON,
            written_by=made["load"].written_by,
        )
        HoldFactory(gauge=gauge, readings_from=NOON - 2 * HOUR)
        assert len(holds_on("propeller", made["propeller"].pk)) == reaches
        assert held_blanks().count() == reaches


def test_many_things_are_asked_at_once(made, django_assert_num_queries):
    blanks = [factories.glued_blank(3, mix=made["mix"]) for _ in range(20)]
    mix_hold = HoldFactory(mix=made["mix"])
    own = HoldFactory(blank=blanks[3])
    with django_assert_num_queries(2):
        holds = holds_for("blank", [b.pk for b in blanks])
    assert holds[blanks[0].pk] == [mix_hold]
    assert holds[blanks[3].pk] == [mix_hold, own]
    assert set(holds) == {b.pk for b in blanks}


def test_no_hold_costs_one_query(made, django_assert_num_queries):
    with django_assert_num_queries(1):
        assert holds_on("propeller", made["propeller"].pk) == []


def test_queries_do_not_grow_with_the_holds(made, django_assert_num_queries):
    HoldFactory(mix=made["mix"])
    HoldFactory(board=made["board"])
    HoldFactory(gauge=factories.GaugeFactory())
    HoldFactory(lot=made["hardener"])
    with django_assert_num_queries(2):
        holds = holds_on("propeller", made["propeller"].pk)
        assert [str(h.deviation) for h in holds] == ["None"] * 3
        assert [h.subject_kind for h in holds] == ["mix", "board", "lot"]


def test_what_is_held_can_be_filtered_in_a_list(made):
    HoldFactory(lot=made["timber"])
    assert list(held_propellers()) == [made["propeller"]]
    assert list(held_blanks()) == [made["blank"]]
