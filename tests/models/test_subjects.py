"""A row is about exactly one thing, held by the database itself."""

import pytest
from django.db import IntegrityError, transaction

from records.models import Tag
from records.models.subjects import ANY_KINDS, MATERIAL_KINDS, exactly_one
from tests import factories

pytestmark = pytest.mark.django_db


def test_the_subject_is_the_one_that_is_set(shop):
    board = factories.BoardFactory()
    tag = factories.TagFactory(board=board)
    assert (tag.subject_kind, tag.subject) == ("board", board)


def test_no_subject_is_refused(shop):
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.TagFactory()


def test_two_subjects_are_refused(shop):
    board = factories.BoardFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.TagFactory(board=board, lot=board.lot)


def test_the_condition_holds_for_each_kind_alone(shop):
    tag = factories.TagFactory(gauge=factories.GaugeFactory())
    assert list(Tag.objects.filter(exactly_one(ANY_KINDS))) == [tag]
    assert not Tag.objects.filter(exactly_one(MATERIAL_KINDS)).filter(pk=tag.pk, lot=1)
