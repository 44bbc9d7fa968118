"""Cells and tables of a printed form."""

from records.documents.form import OPEN, Cell, Table


def test_an_empty_cell_shows_a_dash_and_never_nothing():
    assert Cell("1", "x").words == [OPEN]
    assert Cell("1", "x", ["", "said"]).words == ["said"]
    assert Cell("1", "x", blank_mm=9).words == []
    assert Cell("1", "x", table=Table(["a"], [])).words == []
    assert Cell("1", "x", picture="data:").words == []


def test_columns_share_the_width():
    table = Table(["a", "b"], [], shares=[1, 3])
    assert table.columns == [("a", "25.00"), ("b", "75.00")]
    assert Table(["a", "b"], []).widths == ["50.00", "50.00"]
