"""Fit to be used? Every reason at once, each a sentence.

That a container past its date is not used, and that instruments are read only in
date, is asked by AC 43.13-1B 1-4 and ISO 9001 7.1.5.2 (requirements, rows 10 and 41).
"""

import datetime as dt

import pytest

from records.models import Board, Gauge, Lot, Material
from records.rules.finding import Weight
from records.rules.fitness import (
    board_usable,
    calibration_holds,
    gauge_fit,
    lot_usable,
    lot_usable_for_glue,
)
from tests import factories
from tests.factories import DAY

pytestmark = pytest.mark.django_db
ONE = dt.timedelta(days=1)


@pytest.fixture(autouse=True)
def open_shop(shop):
    """Stand in a shop."""


def sentences(findings):
    return " ".join(f.sentence for f in findings)


def test_accepted_lot_in_date_is_usable():
    assert lot_usable_for_glue(factories.ResinLotFactory(), DAY) == []


def test_last_day_is_usable_and_the_next_is_not():
    lot = factories.ResinLotFactory(expires_on=DAY)
    assert lot_usable_for_glue(lot, DAY) == []
    (finding,) = lot_usable_for_glue(lot, DAY + ONE)
    assert finding.blocks
    assert "usable until 2 Mar 2026" in finding.sentence


@pytest.mark.parametrize(
    ("state", "word"),
    [
        (Lot.State.WAITING, "waiting for its receiving check"),
        (Lot.State.REFUSED, "refused"),
        (Lot.State.RETURNED, "returned to the supplier"),
        (Lot.State.USED_UP, "used up"),
    ],
)
def test_lot_in_any_other_state_is_not_usable(state, word):
    lot = factories.LotFactory(state=state)
    (finding,) = lot_usable(lot, DAY)
    assert finding.blocks
    assert word in finding.sentence


def test_lot_is_not_used_before_it_came():
    lot = factories.LotFactory(received_on=DAY)
    assert "received on 2 Mar 2026" in sentences(lot_usable(lot, DAY - ONE))


def test_unknown_lot_number_is_legal_and_flagged():
    (finding,) = lot_usable(factories.LotFactory(supplier_lot=""), DAY)
    assert finding.weight is Weight.WARNS
    assert "not known" in finding.sentence


def test_glue_without_a_last_day_is_flagged():
    (finding,) = lot_usable_for_glue(factories.ResinLotFactory(expires_on=None), DAY)
    assert not finding.blocks
    assert "No last day" in finding.sentence


def test_timber_is_no_glue():
    (finding,) = lot_usable_for_glue(factories.LotFactory(), DAY)
    assert finding.blocks


def test_all_reasons_come_at_once():
    lot = factories.ResinLotFactory(
        state=Lot.State.WAITING, expires_on=DAY - ONE, supplier_lot=""
    )
    assert len(lot_usable_for_glue(lot, DAY)) == 3


def test_usable_board_of_an_accepted_or_used_up_lot():
    for state in (Lot.State.ACCEPTED, Lot.State.USED_UP):
        board = factories.BoardFactory(lot=factories.LotFactory(state=state))
        assert board_usable(board) == []


def test_board_waits_for_its_inspection_and_its_lot():
    lot = factories.LotFactory(state=Lot.State.WAITING)
    board = factories.BoardFactory(lot=lot, state=Board.State.WAITING)
    text = sentences(board_usable(board))
    assert "inspect it" in text
    assert "waiting for its receiving check" in text


@pytest.mark.parametrize("state", [Board.State.REFUSED, Board.State.SAWN])
def test_refused_or_sawn_board_is_not_usable(state):
    (finding,) = board_usable(factories.BoardFactory(state=state))
    assert finding.blocks


def test_gauge_is_fit_on_its_due_day_and_overdue_after():
    calibration = factories.CalibrationFactory(done_on=DAY - 10 * ONE, next_due_on=DAY)
    assert gauge_fit(calibration.gauge, DAY, calibration) == []
    (finding,) = gauge_fit(calibration.gauge, DAY + ONE, calibration)
    assert "due for calibration on 2 Mar 2026" in finding.sentence


def test_gauge_never_calibrated_and_withdrawn_is_named_for_both():
    gauge = factories.GaugeFactory(state=Gauge.State.WITHDRAWN)
    text = sentences(gauge_fit(gauge, DAY, None))
    assert "withdrawn" in text
    assert "never been calibrated" in text


def test_gauge_left_outside_its_permissible_error_is_not_fit():
    calibration = factories.CalibrationFactory(
        as_left_error="-0.08", permissible_error="0.05"
    )
    calibration.refresh_from_db()
    (finding,) = calibration_holds(calibration.gauge, DAY, calibration)
    assert "\N{MINUS SIGN}0.08\xa0mm; 0.05\xa0mm is allowed" in finding.sentence


def test_error_exactly_as_allowed_is_inside():
    calibration = factories.CalibrationFactory(
        as_left_error="0.05", permissible_error="0.05"
    )
    calibration.refresh_from_db()
    assert calibration_holds(calibration.gauge, DAY, calibration) == []


def test_a_kind_that_is_neither_glue_nor_hardener_is_named():
    lot = factories.LotFactory(
        material=factories.TimberFactory(kind=Material.Kind.FINISH, name="Varnish")
    )
    assert "Varnish, which is not a glue" in sentences(lot_usable_for_glue(lot, DAY))
