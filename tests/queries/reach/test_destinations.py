"""Where propellers are."""

import pytest
from django.db.models import Q

from records.models import Propeller
from records.queries.reach.destinations import destinations
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("state", "in_shop"),
    [
        ("in_work", True),
        ("released", True),
        ("returned", True),
        ("delivered", False),
        ("retired", False),
        ("scrapped", False),
    ],
)
def test_every_state_is_in_the_shop_or_out_of_it(state, in_shop):
    factories.PropellerFactory(state=state)
    (result,) = destinations(Q())
    assert result.in_shop is in_shop
    assert result.state_name == Propeller.State(state).label


def test_in_order_of_serial_in_one_query(django_assert_num_queries):
    for serial in ("SN-010", "SN-002", "SN-005"):
        factories.PropellerFactory(serial=serial)
    with django_assert_num_queries(1):
        result = destinations(Q())
    assert [d.serial for d in result] == ["SN-002", "SN-005", "SN-010"]
    assert (result[0].owner, result[0].handed_over_at) == ("", None)
