"""What was seen on boards and sawn of them, in a constant number of queries."""

import datetime as dt
from decimal import Decimal

import pytest

from records.models import BoardCheck, BoardDefect
from records.queries import boards
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db
D = Decimal


@pytest.fixture(autouse=True)
def open_shop(shop):
    """Stand in a shop."""


@pytest.fixture
def moisture():
    """A characteristic read at several points of a board."""
    return factories.CharacteristicFactory(
        code="moisture", name="Moisture content", on="board", unit="%"
    )


def read(board, characteristic, entered, point, hours=0, **kwargs):
    return factories.ReadingFactory(
        **{
            "propeller": None,
            "board": board,
            "characteristic": characteristic,
            "entered": entered,
            "unit": characteristic.unit,
            "point": point,
            "happened_at": NOON + dt.timedelta(hours=hours),
            **kwargs,
        }
    )


def test_boards_are_listed_newest_first_in_one_query(django_assert_num_queries):
    numbers = [factories.BoardFactory().number for _ in range(20)]
    with django_assert_num_queries(1):
        listed = list(boards.boards_listed())
        assert all(str(b.lot.material) for b in listed)
    assert [b.number for b in listed] == numbers[::-1]


def test_void_laminations_are_not_counted_but_shown():
    board = factories.BoardFactory()
    good = factories.LaminationFactory(board=board)
    void = factories.LaminationFactory(board=board, state="void", void_reason="split")
    assert boards.boards_listed().get(pk=board.pk).sawn == 1
    assert boards.laminations_of(board) == [good, void]


def test_inspections_come_with_their_defects_in_two_queries(
    owner, django_assert_num_queries
):
    board = factories.BoardFactory()
    written = {"written_at": NOON, "written_by": owner}
    for hours in (1, 2):
        check = BoardCheck.objects.create(
            board=board,
            happened_at=NOON + dt.timedelta(hours=hours),
            rings="flat",
            accepted=True,
            **written,
        )
        BoardDefect.objects.create(check_of=check, kind="warp", **written)
    with django_assert_num_queries(2):
        checks = boards.checks_of(board)
        assert [str(d) for c in checks for d in c.defects.all()] == ["warp", "warp"]
    assert checks[0].happened_at > checks[1].happened_at


def test_spread_is_between_the_newest_reading_of_each_point(moisture):
    board = factories.BoardFactory()
    read(board, moisture, "14.0", "middle")
    read(board, moisture, "9,4", "root", hours=1)
    read(board, moisture, "10.1", "middle", hours=2)
    read(board, moisture, "11.2", "tip", hours=3)
    (result,) = boards.ranges(boards.standing_readings("board", board.pk))
    assert (result.points, result.lowest, result.highest) == (3, D("9.4"), D("11.2"))
    assert result.difference == D("1.8")


def test_corrected_reading_does_not_count(moisture):
    board = factories.BoardFactory()
    slip = read(board, moisture, "103", "root")
    read(board, moisture, "10.3", "root", hours=1, corrects=slip, reason="slip")
    read(board, moisture, "10.0", "tip", hours=1)
    (result,) = boards.ranges(boards.standing_readings("board", board.pk))
    assert result.difference == D("0.3")


def test_spread_over_two_units_is_in_the_characteristic_s():
    thickness = factories.CharacteristicFactory(code="thickness", on="board")
    board = factories.BoardFactory()
    read(board, thickness, "1", "root", unit="in")
    read(board, thickness, "25", "tip")
    (result,) = boards.ranges(boards.standing_readings("board", board.pk))
    assert (result.difference, result.unit) == (D("0.4"), "mm")


def test_one_point_or_words_have_no_spread(moisture):
    board = factories.BoardFactory()
    note = factories.CharacteristicFactory(on="board", kind="note", unit="")
    read(board, moisture, "9", "root")
    read(board, note, "curly", "root")
    read(board, note, "plain", "tip")
    assert boards.ranges(boards.standing_readings("board", board.pk)) == []
