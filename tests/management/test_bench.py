"""The bench, and what it shows: a hold is one row, and seen on every child at once.

Issue: a hold on one glue lot in a shop of 10,000 serials is seen on every child in
constant queries. Here the shop has 1,000; `manage.py bench` measures 10,000.
"""

import json
import os
import subprocess
import sys

import pytest
from django.conf import settings
from django.core.management import CommandError, call_command

from records.management.bench import measures
from records.management.bench.large_shop import LAMINATIONS, build
from records.models import JointSpread, Propeller
from records.queries.reach.holds import held_propellers, holds_for, holds_on
from records.queries.trace.history import where_from, where_to
from tests import factories


@pytest.mark.django_db
def test_hold_on_one_glue_lot_is_seen_on_every_child(django_assert_num_queries):
    shop = build(1000)
    hold = factories.HoldFactory(lot=shop.glue_lot)
    with django_assert_num_queries(2):
        rows = holds_for("propeller", None)
    assert set(rows) == {propeller.pk for propeller in shop.propellers}
    assert all(holds == [hold] for holds in rows.values())
    with django_assert_num_queries(2):
        assert holds_on("propeller", shop.propellers[999].pk) == [hold]
    with django_assert_num_queries(1):
        assert held_propellers().count() == 1000
    with django_assert_num_queries(2):
        assert len(where_to("lot", shop.glue_lot.pk).propellers) == 1000


@pytest.mark.django_db
@pytest.mark.parametrize("serials", [20, 400])
def test_history_asks_as_much_in_a_large_shop_as_in_a_small_one(
    serials, django_assert_num_queries
):
    shop = build(serials)
    propeller = Propeller.objects.select_related("blank").get(
        pk=shop.propellers[serials // 2].pk
    )
    with django_assert_num_queries(16):
        history = where_from(propeller)
    assert len(history.made.laminations) == LAMINATIONS
    assert len(history.written.readings) == 10


@pytest.mark.django_db
def test_every_measure_takes_some_time_both_ways(monkeypatch):
    monkeypatch.setattr(measures, "REPEATS", 1)
    shop = build(100)
    assert JointSpread.objects.count() == 100 * (LAMINATIONS - 1)
    for measure in (
        measures.measure_where_to(shop),
        measures.measure_page(shop),
        measures.measure_every_child(shop),
        measures.measure_filter(shop),
        measures.measure_history(measures.history_s(shop), shop),
    ):
        assert measure.one_s > 0
        assert measure.ratio == measure.other_s / measure.one_s > 0


def test_level_by_level_finds_the_same(db):
    shop = build(100)
    result = measures.level_by_level(shop.glue_lot.pk)
    reached = where_to("lot", shop.glue_lot.pk).propellers
    assert {p.pk for p in result} == {place.pk for place in reached}


def test_too_small_a_shop_is_refused():
    with pytest.raises(CommandError, match="at least 100"):
        call_command("bench", "--serials", "5")


@pytest.mark.once
def test_command_leaves_the_shops_own_book_alone(tmp_path):
    command = [sys.executable, "manage.py", "bench", "--serials", "100", "--json"]
    done = subprocess.run(  # noqa: S603
        command,
        cwd=settings.ROOT,
        env={**os.environ, "SHOPQA_DATA": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    facts = json.loads(done.stdout)
    assert facts["serials"] == 100
    assert len(facts["measures"]) == 5
    assert not (tmp_path / "shop.sqlite3").exists()
