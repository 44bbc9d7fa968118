"""Lines of a readings file, read before anything is checked against the book."""

import datetime as dt

import pytest

from records.services.readings.lines import (
    add_drafts,
    batches_of,
    gauges_named,
    read_lines,
)
from records.services.refusal import Refusal
from tests import factories

HEAD = "kind,number,stage,characteristic,entered,happened_at"


def test_lines_keep_their_numbers_and_empty_ones_are_passed_over():
    lines = read_lines(f"{HEAD}\n\na,b,c,d,e,f\n , , \ng,h,i,j,k,l\n")
    assert [line.number for line in lines] == [3, 5]
    assert lines[0].cells["characteristic"] == "d"


def test_a_short_line_has_empty_cells():
    [line] = read_lines(f"{HEAD}\na,b")
    assert line.cells["happened_at"] == ""


def test_a_byte_order_mark_and_capitals_in_the_head_are_read():
    [line] = read_lines("\ufeff" + HEAD.upper() + "\na,b,c,d,e,f")
    assert line.cells["kind"] == "a"


def test_a_file_has_a_most_of_lines():
    with pytest.raises(Refusal, match="more than 5000 lines"):
        read_lines("\n".join([HEAD, *["a,b,c,d,e,f"] * 5001]))


def test_what_is_no_table_is_said():
    with pytest.raises(Refusal, match="can't be read from line"):
        read_lines(f"{HEAD}\n{'x' * 200_000}")


@pytest.mark.django_db
@pytest.mark.parametrize(("length", "good"), [(40, True), (41, False)])
def test_a_point_is_never_cut_short(length, good):
    stage = factories.StageFactory(code="hub")
    factories.CharacteristicFactory(stage=stage, code="bore")
    blank = factories.BlankFactory(route=stage.revision)
    factories.PropellerFactory(blank=blank, serial="1")
    row = f"propeller,1,hub,bore,40,2026-03-02 12:00,{'x' * length}"
    [batch], _ = batches_of(read_lines(f"{HEAD},point\n{row}"))
    assert (add_drafts(batch, {}) == []) is good


@pytest.mark.django_db
def test_things_are_found_a_query_a_kind(django_assert_num_queries):
    boards = [factories.BoardFactory(number=f"B{n}") for n in range(20)]
    rows = [f"Board,{b.number},c,d,e,f" for b in boards]
    lines = read_lines("\n".join([HEAD, *rows, "gauge,G1,c,d,e,f"]))
    with django_assert_num_queries(1):
        batches, batches_here = batches_of(lines)
    assert [b.thing for b in batches] == boards
    assert [f.sentence for f in batches_here] == [
        "Line 22: there is no gauge G1 in the book."
    ]


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("2026-03-02 12:00", dt.datetime(2026, 3, 2, 12, tzinfo=dt.UTC)),
        ("2026-03-02T12:00:00+01:00", dt.datetime(2026, 3, 2, 11, tzinfo=dt.UTC)),
    ],
)
def test_a_moment_is_of_the_shops_zone_unless_it_says_so(text, moment):
    stage = factories.StageFactory(code="hub")
    factories.CharacteristicFactory(stage=stage, code="bore")
    blank = factories.BlankFactory(route=stage.revision)
    factories.PropellerFactory(blank=blank, serial="1")
    lines = read_lines(f"{HEAD}\npropeller,1,hub,bore,40,{text}")
    [batch], _ = batches_of(lines)
    assert add_drafts(batch, gauges_named(lines)) == []
    [draft] = batch.drafts
    assert draft.happened_at == moment
    assert draft.unit == "mm"
