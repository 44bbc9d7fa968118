"""Laying a stack: one blank each, sound wood, the right species, and gaps kept."""

import pytest

from records.models import Blank, Board, JointSpread, Lamination, Lot
from records.queries.builds.register import stack_of, voided_of
from records.services import boards
from records.services.builds import stacking
from records.services.holds import hold
from records.services.refusal import Refusal
from tests import factories
from tests.factories import NOON


@pytest.fixture
def blank(shop):
    return factories.BlankFactory(revision__laminations=4)


@pytest.fixture
def lot(blank):
    lot = factories.LotFactory()
    factories.AllowedSpeciesFactory(revision=blank.revision, material=lot.material)
    return lot


@pytest.fixture
def four(lot):
    return factories.LaminationFactory.create_batch(4, board__lot=lot)


def order(*laminations, turned=()):
    return [(x, x in turned) for x in laminations]


def lying(blank):
    return [(x.number, x.turned) for x in stack_of(blank)]


def says(refusal):
    return " ".join(f.sentence for f in refusal.value.findings)


class TestPlanning:
    def test_a_blank_is_planned_under_the_next_number(self, act, shop):
        revision = factories.RevisionFactory()
        route = factories.RouteRevisionFactory()
        blank = stacking.plan_blank(act=act, revision=revision, route=route)
        assert blank.number == "K0001"
        assert blank.state == Blank.State.STACKING

    def test_nothing_is_planned_to_what_is_out_of_use(self, act, shop):
        revision = factories.RevisionFactory(design__in_use=False)
        route = factories.RouteRevisionFactory(route__in_use=False)
        with pytest.raises(Refusal) as refusal:
            stacking.plan_blank(act=act, revision=revision, route=route)
        assert {f.field for f in refusal.value.findings} == {"revision", "route"}


class TestLaying:
    def test_a_stack_is_laid_from_the_bottom_up(self, act, blank, four):
        a, b, c, d = four
        stacking.lay_laminations(act=act, blank=blank, order=order(c, a, turned=(a,)))
        assert lying(blank) == [(c.number, False), (a.number, True)]
        stacking.lay_laminations(act=act, blank=blank, order=order(a, c, b, d))
        assert lying(blank) == [(x.number, False) for x in (a, c, b, d)]

    def test_what_is_not_in_the_order_is_free_again(self, act, blank, four):
        a, b, *_ = four
        stacking.lay_laminations(act=act, blank=blank, order=order(a, b))
        stacking.lay_laminations(act=act, blank=blank, order=order(b))
        a.refresh_from_db()
        assert (a.blank, a.position) == (None, None)
        assert lying(blank) == [(b.number, False)]

    def test_a_lamination_lies_in_one_blank_at_most(self, act, blank, four):
        a = four[0]
        stacking.lay_laminations(act=act, blank=blank, order=order(a))
        other = factories.BlankFactory(revision=blank.revision)
        with pytest.raises(Refusal) as refusal:
            stacking.lay_laminations(act=act, blank=other, order=order(a))
        assert f"{a.number} lies in blank {blank.number}" in says(refusal)
        assert lying(other) == []

    def test_a_lamination_is_named_once(self, act, blank, four):
        with pytest.raises(Refusal, match="2 times"):
            stacking.lay_laminations(act=act, blank=blank, order=order(four[0]) * 2)

    def test_not_more_than_the_design_has(self, act, blank, four, lot):
        fifth = factories.LaminationFactory(board__lot=lot)
        with pytest.raises(Refusal, match="5 laminations are too many"):
            stacking.lay_laminations(act=act, blank=blank, order=order(*four, fifth))

    def test_only_species_that_the_design_allows(self, act, blank, lot):
        other = factories.LaminationFactory(board__lot__material__name="Poplar")
        with pytest.raises(Refusal) as refusal:
            stacking.lay_laminations(act=act, blank=blank, order=order(other))
        assert "is of Poplar" in says(refusal)
        assert lot.material.name in says(refusal)

    @pytest.mark.parametrize(
        ("wood", "sentence"),
        [
            ({"board__state": Board.State.WAITING}, "waits for its inspection"),
            ({"board__state": Board.State.REFUSED}, "was refused"),
            ({"state": "void", "void_reason": "cracked"}, "is void (cracked)"),
        ],
    )
    def test_only_sound_wood(self, act, blank, lot, wood, sentence):
        bad = factories.LaminationFactory(board__lot=lot, **wood)
        with pytest.raises(Refusal) as refusal:
            stacking.lay_laminations(act=act, blank=blank, order=order(bad))
        assert sentence in says(refusal)

    @pytest.mark.parametrize("state", [Lot.State.REFUSED, Lot.State.WAITING])
    def test_only_wood_of_an_accepted_lot(self, act, blank, state):
        lot = factories.LotFactory(state=state)
        factories.AllowedSpeciesFactory(revision=blank.revision, material=lot.material)
        bad = factories.LaminationFactory(board__lot=lot)
        with pytest.raises(Refusal, match="wood of an accepted lot"):
            stacking.lay_laminations(act=act, blank=blank, order=order(bad))

    def test_everything_wrong_is_said_at_once(self, act, blank, four):
        void = factories.LaminationFactory(state="void", void_reason="knot")
        with pytest.raises(Refusal) as refusal:
            stacking.lay_laminations(act=act, blank=blank, order=order(void))
        assert len(refusal.value.findings) == 2

    def test_the_order_is_fixed_once_glue_up_began(self, act, shop, four):
        blank = factories.BlankFactory(state=Blank.State.GLUING)
        with pytest.raises(Refusal, match="its order is fixed"):
            stacking.lay_laminations(act=act, blank=blank, order=order(four[0]))


class TestOnePlace:
    def lay(self, act, blank, position, lamination, *, turned=False):
        return stacking.lay_in_place(
            act=act,
            blank=blank,
            position=position,
            lamination=lamination,
            turned=turned,
        )

    def test_situation_4_a_void_number_keeps_its_gap(self, act, blank, four, lot):
        """Board found cracked after numbering: void, replace, explain the gap."""
        stacking.lay_laminations(act=act, blank=blank, order=order(*four))
        cracked = four[2]
        boards.void_lamination(act=act, lamination=cracked, reason="Cracked end")
        with pytest.raises(Refusal, match="nothing lies in place 3"):
            stacking.begin_glue_up(act=act, blank=blank)
        fresh = factories.LaminationFactory(board__lot=lot)
        self.lay(act, blank, 3, fresh, turned=True)
        assert [x.number for x in stack_of(blank)] == [
            four[0].number,
            four[1].number,
            fresh.number,
            four[3].number,
        ]
        [gap] = voided_of(blank)
        assert (gap.number, gap.position) == (cracked.number, 3)
        assert gap.void_reason == "Cracked end"

    def test_situation_4_the_replacement_is_checked_again(self, act, blank, four):
        stacking.lay_laminations(act=act, blank=blank, order=order(*four))
        poplar = factories.LaminationFactory()
        with pytest.raises(Refusal, match="allows:"):
            self.lay(act, blank, 3, poplar)

    def test_what_lay_there_is_free_again(self, act, blank, four):
        a, b, *_ = four
        self.lay(act, blank, 1, a)
        self.lay(act, blank, 1, b)
        a.refresh_from_db()
        assert a.blank is None
        assert lying(blank) == [(b.number, False)]

    def test_a_place_beside_a_closed_joint_is_fixed(self, act, shop):
        blank = factories.stacked_blank(4, state=Blank.State.GLUING)
        factories.JointSpreadFactory(blank=blank, joint=1)
        lot = stack_of(blank)[0].board.lot
        fresh = factories.LaminationFactory(board__lot=lot)
        with pytest.raises(Refusal, match="Joint 1 beside place 2 is closed"):
            self.lay(act, blank, 2, fresh)
        assert self.lay(act, blank, 3, fresh).position == 3

    def test_a_lamination_turned_by_mistake_is_turned_back(self, act, blank, four):
        a = four[0]
        self.lay(act, blank, 1, a, turned=True)
        assert not self.lay(act, blank, 1, a, turned=False).turned

    @pytest.mark.parametrize("state", [Blank.State.GLUING, Blank.State.GLUED])
    def test_what_lies_in_an_empty_place_may_be_written_late(self, act, shop, state):
        blank = factories.stacked_blank(3, state=state)
        factories.JointSpreadFactory(blank=blank, joint=1)
        piece = stack_of(blank)[0]
        Lamination.objects.filter(pk=piece.pk).update(blank=None, position=None)
        assert self.lay(act, blank, 1, piece).position == 1

    def test_nothing_is_laid_in_a_scrapped_blank(self, act, blank, four):
        Blank.objects.update(state=Blank.State.SCRAPPED)
        with pytest.raises(Refusal, match="is scrapped"):
            self.lay(act, blank, 1, four[0])

    def test_there_is_no_place_beyond_the_stack(self, act, blank, four):
        with pytest.raises(Refusal, match="places 1 to 4"):
            self.lay(act, blank, 5, four[0])

    def test_a_lamination_is_taken_out(self, act, blank, four):
        stacking.lay_laminations(act=act, blank=blank, order=order(*four))
        stacking.take_out_lamination(act=act, lamination=four[1])
        assert [x.position for x in stack_of(blank)] == [1, 3, 4]

    def test_what_lies_nowhere_is_not_taken_out(self, act, four):
        with pytest.raises(Refusal, match="lies in no blank"):
            stacking.take_out_lamination(act=act, lamination=four[0])

    def test_a_void_one_keeps_its_place(self, act, blank, four):
        stacking.lay_laminations(act=act, blank=blank, order=order(*four))
        boards.void_lamination(act=act, lamination=four[0], reason="Knot")
        with pytest.raises(Refusal, match="keeps its place"):
            stacking.take_out_lamination(act=act, lamination=four[0])


class TestBeginning:
    def test_a_whole_stack_begins(self, act, shop):
        blank = factories.stacked_blank(4)
        stacking.begin_glue_up(act=act, blank=blank)
        blank.refresh_from_db()
        assert blank.state == Blank.State.GLUING

    def test_too_few_laminations_are_refused(self, act, blank, four):
        stacking.lay_laminations(act=act, blank=blank, order=order(*four[:2]))
        with pytest.raises(Refusal, match="2 of 4 laminations are laid") as refusal:
            stacking.begin_glue_up(act=act, blank=blank)
        assert "place 3, 4" in says(refusal)

    def test_wood_that_was_refused_meanwhile_is_found(self, act, shop):
        blank = factories.stacked_blank(4)
        first = stack_of(blank)[0]
        Board.objects.filter(pk=first.board_id).update(state=Board.State.REFUSED)
        with pytest.raises(Refusal, match="was refused"):
            stacking.begin_glue_up(act=act, blank=blank)

    def test_held_wood_is_found(self, act, shop):
        blank = factories.stacked_blank(4)
        board = stack_of(blank)[0].board
        hold(act=act, thing=board, reason="Worm holes", happened_at=NOON)
        with pytest.raises(Refusal, match="Worm holes"):
            stacking.begin_glue_up(act=act, blank=blank)

    def test_it_begins_once(self, act, shop):
        blank = factories.stacked_blank(4)
        stacking.begin_glue_up(act=act, blank=blank)
        with pytest.raises(Refusal, match="in glue-up"):
            stacking.begin_glue_up(act=act, blank=blank)

    def test_the_database_keeps_one_lamination_in_a_place(self, act, blank, four):
        stacking.lay_laminations(act=act, blank=blank, order=order(*four))
        places = Lamination.objects.filter(blank=blank).values_list("position")
        assert len(set(places)) == 4
        assert not JointSpread.objects.exists()
