import datetime as dt

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError

from records.models import JointSpread, Mix
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


def test_a_mix_has_resin():
    with pytest.raises(IntegrityError):
        factories.MixFactory(resin_g=0)


def test_a_joint_is_closed_after_it_is_spread():
    with pytest.raises(IntegrityError):
        factories.JointSpreadFactory(
            spread_at=NOON, closed_at=NOON - dt.timedelta(minutes=1)
        )


def test_a_correction_says_why():
    first = factories.JointSpreadFactory()
    second = JointSpread(corrects=first, reason="")
    with pytest.raises(ValidationError, match="Say why"):
        second.validate_constraints()


def test_a_corrected_line_does_not_stand():
    first = factories.JointSpreadFactory()
    second = factories.JointSpreadFactory(
        blank=first.blank, mix=first.mix, corrects=first, reason="Clock misread"
    )
    assert list(JointSpread.objects.standing()) == [second]


def test_whole_mixes_bring_their_lots(django_assert_num_queries):
    factories.MixFactory()
    with django_assert_num_queries(1):
        [mix] = Mix.objects.with_related()
        assert mix.resin_lot.material.name
        assert mix.hardener_lot.material.name
        assert mix.sheet.hardener.name


def test_joints_come_in_order():
    blank = factories.BlankFactory()
    for joint in (3, 1, 2):
        factories.JointSpreadFactory(blank=blank, joint=joint)
    spreads = JointSpread.objects.filter(blank=blank).in_order()
    assert [str(s) for s in spreads] == ["joint 1", "joint 2", "joint 3"]
