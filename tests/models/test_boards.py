"""What can never be false about boards and laminations."""

import pytest
from django.db import DatabaseError, IntegrityError, transaction

from records.models import Board, Lamination
from tests import factories

pytestmark = pytest.mark.django_db


def test_a_board_number_is_given_once():
    board = factories.BoardFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.BoardFactory(number=board.number)


@pytest.mark.parametrize("field", ["length_mm", "grade", "number"])
def test_a_board_changes_in_its_state_only(field):
    board = factories.BoardFactory()
    Board.objects.filter(pk=board.pk).update(state="sawn")
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic():
        Board.objects.filter(pk=board.pk).update(**{field: 7})


def test_a_place_in_a_blank_holds_one_good_lamination():
    blank = factories.BlankFactory()
    factories.LaminationFactory(blank=blank, position=1)
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.LaminationFactory(blank=blank, position=1)


def test_a_void_lamination_gives_its_place_free():
    blank = factories.BlankFactory()
    factories.LaminationFactory(
        blank=blank, position=1, state="void", void_reason="cracked"
    )
    good = factories.LaminationFactory(blank=blank, position=1)
    assert list(Lamination.objects.good()) == [good]


def test_a_lamination_in_a_blank_has_a_place_and_a_loose_one_none():
    for facts in ({"blank": factories.BlankFactory()}, {"position": 1}):
        with (
            pytest.raises(IntegrityError, match="laid_lamination_has_a_place"),
            transaction.atomic(),
        ):
            factories.LaminationFactory(**facts)


def test_a_void_number_says_why():
    with pytest.raises(IntegrityError, match="void_lamination_says_why"):
        factories.LaminationFactory(state="void")


@pytest.mark.parametrize("field", ["mass_g", "number", "end_mark"])
def test_a_lamination_keeps_its_mass_and_marks(field):
    piece = factories.LaminationFactory()
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic():
        Lamination.objects.filter(pk=piece.pk).update(**{field: "9"})


def test_whole_boards_and_laminations_need_no_second_query(django_assert_num_queries):
    factories.LaminationFactory()
    with django_assert_num_queries(2):
        assert [b.lot.material.name for b in Board.objects.with_related()]
        for piece in Lamination.objects.with_related():
            assert (piece.board.lot.material.name, piece.blank) != ("", "")
