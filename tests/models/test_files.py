"""What can never be false about kept files and what they are attached to."""

import pytest
from django.db import IntegrityError, transaction

from tests import factories

pytestmark = pytest.mark.django_db


def test_the_same_bytes_have_one_row():
    file = factories.StoredFileFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        factories.StoredFileFactory(sha256=file.sha256)


def test_an_attachment_is_on_one_thing():
    board = factories.BoardFactory()
    factories.AttachmentFactory(board=board)
    for facts in (
        {"board": board, "lot": board.lot},
        {"board": None},
    ):
        with (
            pytest.raises(IntegrityError, match="attachment_has_one_subject"),
            transaction.atomic(),
        ):
            factories.AttachmentFactory(**facts)


def test_a_gauge_can_have_a_paper():
    attachment = factories.AttachmentFactory(gauge=factories.GaugeFactory())
    assert attachment.subject_kind == "gauge"
    assert str(attachment) == attachment.caption
