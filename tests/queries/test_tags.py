"""From what was scanned or typed to the thing that is meant."""

import pytest

from records.queries.tags import (
    Scan,
    folded,
    propeller_by_serial,
    propellers_called,
    propellers_with,
    read_scan,
    tag_by_code,
    tag_on,
    tags_on,
    things_called,
)
from tests import factories

CODE = "0123456789ABCDEF"


@pytest.mark.parametrize(
    ("typed", "scan"),
    [
        (f"HTTP://SHOP:8000/T/{CODE}/2026-001", Scan(CODE, "2026-001")),
        (f"https://new.example/t/{CODE.lower()}/ta%201", Scan(CODE, "ta 1")),
        (f"http://x/t/{CODE}/2026-001?utm=1", Scan(CODE, "2026-001")),
        ("0123 4567 89AB CDEF", Scan(CODE, "0123 4567 89AB CDEF")),
        ("2026-001", Scan("", "2026-001")),
        ("  L0004\r\n", Scan("", "L0004")),
        ("", Scan("", "")),
    ],
)
def test_a_scan_is_read_whatever_came_into_the_box(typed, scan):
    assert read_scan(typed) == scan


def test_letters_that_are_taken_for_others_are_folded():
    """Crockford's base 32: I and L are 1, O is 0; U is no letter of it."""
    assert folded("oil u") == "011V"


@pytest.mark.django_db
def test_things_are_found_by_number_whatever_the_case(shop):
    lot = factories.LotFactory(number="L0004")
    board = factories.BoardFactory(number="l0004")
    assert set(things_called("L0004")) == {lot, board}
    assert things_called("") == []


@pytest.mark.django_db
def test_a_propeller_is_found_by_its_whole_serial_or_a_part(shop):
    one = factories.PropellerFactory(serial="2026-041A")
    assert propeller_by_serial(" 2026-041a ") == one
    assert propeller_by_serial("2026-041") is None
    assert propellers_with("041") == [one]
    assert propellers_with("") == []


@pytest.mark.django_db
def test_parts_that_fit_many_give_twenty_at_most(shop):
    blank = factories.BlankFactory()
    for n in range(25):
        factories.PropellerFactory(serial=f"A-{n}", blank=blank)
    assert len(propellers_with("A-")) == 20


@pytest.mark.django_db
def test_many_serials_are_found_in_one_query(shop, django_assert_num_queries):
    one = factories.PropellerFactory(serial="2026-041A")
    with django_assert_num_queries(1):
        assert propellers_called(["2026-041a", "2026-999"]) == {"2026-041a": one}


@pytest.mark.django_db
def test_tags_are_found_from_both_ends(shop):
    board, other = factories.BoardFactory.create_batch(2)
    tag = factories.TagFactory(board=board, code=CODE)
    assert tag_by_code(CODE.lower()) == tag
    assert tag_by_code("") is None
    assert tag_on(board) == tag
    assert tag_on(other) is None
    assert tags_on("board", [board.pk, other.pk]) == {board.pk: tag}
