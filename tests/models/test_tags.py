"""A tag is on exactly one thing, and a thing has one tag; never changed."""

import pytest
from django.db import IntegrityError, transaction

from records.models import Tag
from tests import factories

pytestmark = pytest.mark.django_db


def test_a_thing_has_one_tag(shop):
    board = factories.BoardFactory()
    factories.TagFactory(board=board)
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.TagFactory(board=board)


@pytest.mark.parametrize("kinds", [(), ("board", "lot")])
def test_a_tag_is_on_exactly_one_thing(shop, kinds):
    things = {"board": factories.BoardFactory, "lot": factories.LotFactory}
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.TagFactory(**{kind: things[kind]() for kind in kinds})


def test_a_code_leads_to_one_thing_and_stays(shop):
    tag = factories.TagFactory(board=factories.BoardFactory())
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.TagFactory(board=factories.BoardFactory(), code=tag.code)
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        Tag.objects.filter(pk=tag.pk).update(code="X")
