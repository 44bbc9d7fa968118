"""A thing has one tag, with a code that nobody can guess."""

import pytest

from records.models import LedgerEntry, Tag
from records.queries.tags import ALPHABET
from records.services.ledger import Entry
from records.services.tags import add_tag, tag_for, tags_for
from tests import factories

pytestmark = pytest.mark.django_db


def test_a_thing_gets_its_tag_once(act):
    board = factories.BoardFactory()
    tag = tag_for(act=act, thing=board)
    assert tag_for(act=act, thing=board) == tag
    assert Tag.objects.count() == 1
    assert LedgerEntry.objects.get().verb == "make tag"


def test_a_code_has_80_bits_in_letters_that_are_not_confused(act):
    """Crockford's base 32 (published alphabet): 16 letters of 5 bits each."""
    boards = factories.BoardFactory.create_batch(50)
    codes = {tag.code for tag in tags_for(act=act, things=boards)}
    assert len(codes) == 50
    for code in codes:
        assert len(code) * 5 == 80
        assert set(code) <= set(ALPHABET)
        assert not set(code) & set("ILOU")


def test_many_get_their_tags_in_order_with_one_entry(act):
    board, lot = factories.BoardFactory(), factories.LotFactory()
    old = tag_for(act=act, thing=lot)
    tags = tags_for(act=act, things=[board, lot, board])
    assert [t.subject for t in tags] == [board, lot, board]
    assert tags[1] == old
    assert Tag.objects.count() == 2
    assert LedgerEntry.objects.filter(verb="make tags").count() == 1


def test_nothing_is_written_where_every_tag_is_there(act):
    lot = factories.LotFactory()
    tag_for(act=act, thing=lot)
    count = LedgerEntry.objects.count()
    tags_for(act=act, things=[lot])
    assert LedgerEntry.objects.count() == count


def test_a_tag_is_made_within_an_open_entry(act):
    lot = factories.LotFactory()
    with Entry(act, "something") as entry:
        tag = add_tag(entry, lot)
    assert tag.subject == lot
    assert LedgerEntry.objects.get().verb == "something"
