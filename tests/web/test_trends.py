"""Control charts open for what was read, with constant queries."""

import pytest
from django.urls import reverse

from tests import factories


@pytest.fixture
def characteristic(shop):
    stage = factories.StageFactory(code="press", name="Press")
    return factories.CharacteristicFactory(stage=stage, code="slip", name="Slip")


def read(characteristic, count):
    propeller = factories.PropellerFactory()
    for number in range(count):
        factories.ReadingFactory(
            characteristic=characteristic,
            propeller=propeller,
            judged=number % 7,
            judged_unit="mm",
            high=5,
        )


def test_what_was_read_is_listed_and_opens(signed_in, characteristic):
    read(characteristic, 3)
    page = signed_in.get(reverse("trends:trends"))
    url = reverse("trends:trend", args=["press", "slip"])
    assert url in page.content.decode()
    chart = signed_in.get(url).content.decode()
    assert "<svg" in chart
    assert "oo few" in chart


def test_one_reading_is_no_chart_yet(signed_in, characteristic):
    read(characteristic, 1)
    page = signed_in.get(reverse("trends:trend", args=["press", "slip"]))
    assert "a chart needs two" in page.content.decode()


def test_what_was_never_read_is_not_found(signed_in, shop):
    page = signed_in.get(reverse("trends:trend", args=["press", "slip"]))
    assert page.status_code == 404


def test_queries_do_not_grow(signed_in, characteristic, django_assert_max_num_queries):
    read(characteristic, 2)
    url = reverse("trends:trend", args=["press", "slip"])
    with django_assert_max_num_queries(6):
        signed_in.get(url)
    read(characteristic, 20)
    with django_assert_max_num_queries(6):
        signed_in.get(url)
