"""What lots there are, in a constant number of queries."""

import datetime as dt

import pytest

from records.models import LotCheck
from records.queries import lots
from tests import factories
from tests.factories import DAY, NOON

pytestmark = pytest.mark.django_db
ONE = dt.timedelta(days=1)


@pytest.fixture(autouse=True)
def open_shop(shop):
    """Stand in a shop."""


def test_lots_are_listed_last_received_first_in_one_query(django_assert_num_queries):
    for days in range(20):
        factories.LotFactory(received_on=DAY - days * ONE)
    with django_assert_num_queries(1):
        listed = list(lots.lots_listed(DAY))
        assert all(str(lot.material) and str(lot.supplier) for lot in listed)
    assert [lot.received_on for lot in listed] == sorted(
        (lot.received_on for lot in listed), reverse=True
    )


@pytest.mark.parametrize(
    ("state", "expires_on", "expired"),
    [
        ("accepted", DAY, False),
        ("accepted", DAY - ONE, True),
        ("waiting", DAY - ONE, True),
        ("used_up", DAY - ONE, False),
        ("accepted", None, False),
    ],
)
def test_lot_still_open_past_its_last_day_is_expired(state, expires_on, expired):
    factories.LotFactory(state=state, expires_on=expires_on)
    assert lots.lots_listed(DAY).get().expired is expired


def test_checks_come_newest_first():
    lot = factories.LotFactory()
    for hours in (1, 3, 2):
        LotCheck.objects.create(
            lot=lot,
            happened_at=NOON + dt.timedelta(hours=hours),
            accepted=True,
            found=str(hours),
            written_at=NOON,
            written_by=lot.written_by,
        )
    assert [c.found for c in lots.checks_of(lot)] == ["3", "2", "1"]


def test_boards_of_a_lot_count_their_laminations():
    board = factories.BoardFactory()
    factories.LaminationFactory(board=board)
    factories.LaminationFactory(board=board)
    factories.BoardFactory()
    (boards,) = lots.boards_of(board.lot)
    assert boards.sawn == 2


def test_mixes_are_found_by_resin_and_by_hardener():
    mix = factories.MixFactory()
    factories.MixFactory()
    assert list(lots.mixes_of(mix.resin_lot)) == [mix]
    assert list(lots.mixes_of(mix.hardener_lot)) == [mix]


def test_suppliers_have_their_lots_counted_in_one_query(django_assert_num_queries):
    supplier = factories.SupplierFactory()
    for state in ("accepted", "refused", "returned"):
        factories.LotFactory(supplier=supplier, state=state)
    factories.SupplierFactory(in_use=False, name="A former one")
    with django_assert_num_queries(1):
        first, former = lots.suppliers_listed()
    assert (first.received, first.refused) == (3, 2)
    assert former.name == "A former one"


def test_materials_have_their_lots_counted():
    lot = factories.LotFactory()
    (result,) = lots.materials_listed().filter(pk=lot.material_id)
    assert result.received == 1


def test_sheets_of_an_adhesive_come_newest_first():
    old = factories.GlueSheetFactory()
    factories.GlueSheetFactory(adhesive=old.adhesive, revision=2)
    factories.GlueSheetFactory()
    assert [s.revision for s in lots.sheets_of(old.adhesive_id)] == [2, 1]


def test_deviations_about_a_supplier_reach_down_to_their_glue_and_laminations():
    mix = factories.MixFactory()
    supplier = mix.hardener_lot.supplier
    board = factories.BoardFactory(lot__supplier=supplier)
    lamination = factories.LaminationFactory(board=board)
    result = {
        factories.DeviationSubjectFactory(**about).deviation
        for about in (
            {"lot": mix.hardener_lot},
            {"board": board},
            {"lamination": lamination},
            {"mix": mix},
        )
    }
    factories.DeviationSubjectFactory()
    assert set(lots.deviations_about(supplier)) == result
