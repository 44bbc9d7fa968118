"""What a thing was made of stands in tables, the same for every reader."""

import pytest

from records.models import CouponTest
from records.queries.provenance import tables
from records.queries.trace.history import where_from
from tests import factories
from tests.finished import built, made  # noqa: F401

pytestmark = pytest.mark.django_db


@pytest.fixture
def history(made):  # noqa: F811
    return where_from(made.propeller)


def column(table, name):
    return [row.cells[table.columns.index(name)] for row in table.rows]


def test_every_row_has_a_cell_for_every_column(history):
    every = tables.tables_of(history.made, history.written)
    assert len(every) == 7
    for table in every:
        assert len(table.shares) == len(table.columns)
        for row in table.rows:
            assert len(row.cells) == len(table.columns)
            assert all(isinstance(cell, str) for cell in row.cells)
            assert (row.verdict is not None) == table.judged


def test_each_lamination_leads_to_board_lot_and_wood(history):
    table = tables.laminations(history.made)
    assert column(table, "Place") == ["1", "2", "3", "4"]
    assert set(column(table, "Wood")) == {"Yellow birch"}
    assert column(table, "Mass")[0] == "3151\xa0g (6.95\xa0lb)"
    assert [row.thing for row in table.rows] == history.made.laminations


def test_what_is_not_known_is_called_unknown(shop):
    lot = factories.LotFactory(supplier=None, supplier_lot="")
    propeller = factories.PropellerFactory(serial="T-1")
    factories.LaminationFactory(
        board__lot=lot, blank=propeller.blank, position=1, mass_g=None
    )
    table = tables.laminations(where_from(propeller).made)
    assert column(table, "Bought as") == ["supplier unknown, lot unknown"]
    assert column(table, "Mass") == ["\N{EN DASH}"]


def test_each_joint_has_its_glue_times_and_verdict(history):
    table = tables.joints(history.made)
    assert column(table, "Joint") == ["1", "2", "3"]
    assert set(column(table, "On")) == {"both faces"}
    assert {row.verdict.shape for row in table.rows} == {"inside"}
    assert len(tables.mixes(history.made).rows) == len(set(column(table, "Mix"))) == 2


def test_the_press_shows_what_was_asked_and_what_was_seen(history):
    table = tables.loads(history.made, history.written)
    assert column(table, "Samples") == ["40"]
    assert column(table, "Asked at the glue line")[0].startswith("1.00\xa0MPa")
    # 1.19 MPa at first; 90 kPa less in the tenth of 40 samples: 1.0937 MPa (invented).
    assert column(table, "Seen at the glue line")[0].startswith("1.09\xa0MPa")


def test_a_load_without_samples_says_nothing_of_pressure(shop):
    propeller = factories.PropellerFactory(serial="T-2")
    factories.LoadedBlankFactory(blank=propeller.blank)
    history = where_from(propeller)
    table = tables.loads(history.made, history.written)
    assert column(table, "Seen at the glue line") == ["\N{EN DASH}"]


def test_a_coupon_that_failed_or_waits_is_there_too(history):
    mix = history.made.mixes[0]
    failed, waits = (factories.CouponFactory(mix=mix) for _ in range(2))
    passed = history.made.coupons[0].tests.get()
    CouponTest.objects.create(
        **{
            **{f.name: getattr(passed, f.name) for f in passed._meta.concrete_fields},
            "id": None,
            "coupon": failed,
            "verdict": "failed",
        }
    )
    table = tables.coupons(where_from(history.made.propeller).made)
    shapes = {row.thing.number: row.verdict.shape for row in table.rows}
    assert shapes[failed.number] == "outside"
    assert shapes[waits.number] == "waiting"
    assert set(column(table, "Wood failure")) >= {"90\xa0% (at least 75\xa0%)"}


def test_a_void_number_says_why(history):
    board = history.made.boards[0]
    factories.LaminationFactory(board=board, state="void", void_reason="end check")
    table = tables.voided(where_from(history.made.propeller).made)
    assert column(table, "Why") == ["end check"]


def test_what_was_put_on_later_names_its_lot(history):
    use = factories.MaterialUseFactory(propeller=history.made.propeller)
    table = tables.uses(where_from(history.made.propeller).made)
    assert column(table, "Lot or mix") == [f"lot {use.lot}"]
    assert column(table, "Where") == ["leading edges"]
