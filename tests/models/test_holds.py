"""A hold stands until its release is written."""

from records.models import Hold, HoldRelease
from tests import factories


def test_a_released_hold_does_not_stand(act):
    board = factories.BoardFactory()
    standing = factories.HoldFactory(board=board)
    released = factories.HoldFactory(board=board)
    HoldRelease.objects.create(
        hold=released,
        happened_at=factories.NOON,
        reason="Decided.",
        written_at=act.at,
        written_by=act.by,
    )
    assert list(Hold.objects.standing()) == [standing]
