"""The row that is kept of a reading, with the limit it was judged by."""

import dataclasses
import datetime as dt
from decimal import Decimal

import pytest

from records.queries.readings.context import context_for
from records.rules.readings.draft import Draft
from records.rules.readings.limits import InForce
from records.rules.readings.rows import (
    judged_row,
    row_held_against,
    stored_limit,
    subject_field,
)
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def characteristic(shop):
    return factories.CharacteristicFactory()


@pytest.fixture
def draft(characteristic):
    blank = factories.BlankFactory(route=characteristic.stage.revision)
    return Draft(
        subject=factories.PropellerFactory(blank=blank),
        characteristic=characteristic,
        entered=" 1,50 ",
        unit="mm",
        happened_at=factories.NOON,
        point=" root ",
    )


def context(draft):
    return context_for(draft.subject, [draft.characteristic], [draft.gauge])


def test_everything_is_kept_with_the_verdict(draft, characteristic):
    limit = factories.LimitFactory(characteristic=characteristic, low=1, high="1.5")
    row = judged_row(draft, context(draft), ["Flagged."]).reading
    assert (row.entered, row.unit, row.point) == ("1,50", "mm", "root")
    assert (row.low, row.high, row.limit) == (1, Decimal("1.5"), limit)
    assert (row.verdict, row.rule, row.flags) == ("inside", "simple", "Flagged.")
    assert row.judged == Decimal("1.5")


def test_a_limit_that_came_later_is_flagged(draft, characteristic):
    factories.LimitFactory(
        characteristic=characteristic,
        high=2,
        in_force_from=factories.NOON + dt.timedelta(days=1),
    )
    row = judged_row(draft, context(draft), []).reading
    assert row.verdict == "inside"
    assert row.flags.startswith("Held against the first limit, in force from")


def test_a_stored_limit_comes_back_as_it_was(draft):
    limit = InForce(Decimal(1), Decimal(2), "mm", "shop's practice")
    row = row_held_against(draft, context(draft), limit, "simple", []).reading
    assert stored_limit(row) == limit


def test_without_a_limit_nothing_is_stored_of_one(draft):
    row = row_held_against(draft, context(draft), None, "simple", []).reading
    assert stored_limit(row) is None
    assert (row.low, row.high, row.limit_source) == (None, None, "")


def test_a_question_keeps_no_limit_and_no_unit(draft, characteristic):
    question = factories.CharacteristicFactory(
        stage=characteristic.stage, kind="yes_no", unit=""
    )
    mine = dataclasses.replace(draft, characteristic=question, entered="Y")
    row = judged_row(mine, context(mine), []).reading
    assert (row.entered, row.unit, row.verdict) == ("yes", "", "inside")


def test_words_are_kept_as_said(draft, characteristic):
    note = factories.CharacteristicFactory(
        stage=characteristic.stage, kind="note", unit=""
    )
    mine = dataclasses.replace(draft, characteristic=note, entered="TA-68 001")
    row = judged_row(mine, context(mine), []).reading
    assert (row.entered, row.verdict) == ("TA-68 001", "no_limit")


def test_what_can_not_be_computed_is_said_at_the_figure(draft, characteristic):
    shown = factories.CharacteristicFactory(
        stage=characteristic.stage, on="load", unit="MPa", computed="glue_line_pressure"
    )
    load = factories.PressLoadFactory()
    mine = dataclasses.replace(
        draft, characteristic=shown, subject=load, entered="-1", unit="MPa"
    )
    row = judged_row(mine, context(mine), [])
    assert row.reading is None
    assert [f.field for f in row.findings] == ["entered"]


def test_a_thing_names_its_column():
    load = factories.PressLoadFactory()
    assert subject_field(load) == {"load": load}
