"""The question of an authority: which serials, where are they, and why not the rest.

A directive on wooden-composite propellers had to be superseded only to clarify which
serials were affected (rules-and-standards, section 0, finding 9).
"""

import datetime as dt

import pytest

from records.queries.reach.suspects import (
    Question,
    materials_named,
    serials_like,
    who_is_affected,
)
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db
DAY = dt.timedelta(days=1)


def pressed(serial, days, mix=None):
    blank = factories.stacked_blank(3)
    factories.JointSpreadFactory(
        blank=blank, joint=1, mix=mix or factories.MixFactory()
    )
    factories.LoadedBlankFactory(blank=blank, load__on_at=NOON + days * DAY)
    return factories.PropellerFactory(serial=serial, blank=blank)


@pytest.fixture
def mix(shop):
    return factories.MixFactory()


def serials(places):
    return [place.serial for place in places]


def test_either_the_lot_or_the_days_is_enough(mix):
    pressed("S-1", 0)
    pressed("S-2", 5, mix)
    pressed("S-3", 9)
    lot = mix.resin_lot
    asked = Question([lot], NOON.date(), NOON.date())
    answer = who_is_affected(asked)
    assert serials(answer.included) == ["S-1", "S-2"]
    assert serials(answer.excluded) == ["S-3"]
    first, second = (answer.because[place.pk] for place in answer.included)
    assert first[0].startswith("pressed in load P")
    assert second == [f"lot {lot.number}"]


@pytest.mark.parametrize(
    ("start", "until", "result"),
    [
        (0, 0, ["S-1"]),
        (0, 5, ["S-1", "S-2"]),
        (1, 4, []),
        (None, 4, ["S-1"]),
        (5, None, ["S-2"]),
    ],
)
def test_both_days_are_included(shop, start, until, result):
    pressed("S-1", 0)
    pressed("S-2", 5)
    days = [None if n is None else (NOON + n * DAY).date() for n in (start, until)]
    assert serials(who_is_affected(Question([], *days)).included) == result


def test_every_serial_is_in_or_out_scrapped_ones_too(mix):
    pressed("S-1", 0, mix)
    factories.PropellerFactory(serial="S-2", state="scrapped")
    answer = who_is_affected(Question([mix]))
    assert serials(answer.included) + serials(answer.excluded) == ["S-1", "S-2"]


def test_repair_material_counts(mix):
    use = factories.MaterialUseFactory()
    answer = who_is_affected(Question([use.lot]))
    assert serials(answer.included) == [use.propeller.serial]


def test_queries_do_not_grow(mix, django_assert_num_queries):
    for number in range(20):
        pressed(f"S-{number:02}", number, mix)
    question = Question([mix, mix.resin_lot], NOON.date(), NOON.date())
    with django_assert_num_queries(3):
        assert len(who_is_affected(question).included) == 20


def test_materials_are_found_by_number_of_any_kind(mix):
    board = factories.BoardFactory(number="B9001")
    result, unknown = materials_named(["b9001", mix.number, " ", "X-99"])
    assert set(result) == {board, mix}
    assert unknown == ["X-99"]


def test_part_of_a_serial_is_enough(shop):
    for serial in ("SN-014", "2025-014", "SN-041"):
        factories.PropellerFactory(serial=serial)
    assert [p.serial for p in serials_like("-014", 10)] == ["2025-014", "SN-014"]
    assert len(serials_like("0", 2)) == 2
