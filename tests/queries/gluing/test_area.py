import pytest

from records.queries.gluing.area import joint_areas_mm2
from tests import factories

pytestmark = pytest.mark.django_db
COLUMNS = (500, 20, 100, 10, 150)


def revision(**kwargs):
    return factories.RevisionFactory(
        blank_length_mm=1800, blank_width_mm=150, stations=[COLUMNS], **kwargs
    )


def test_a_plank_is_length_by_width():
    result = revision()
    assert joint_areas_mm2([result]) == {result.pk: pytest.approx(1800 * 150)}


def test_a_shaped_blank_is_trapezoids_between_its_stations():
    result = factories.RevisionFactory(
        blank_length_mm=1800,
        blank_width_mm=160,
        stations=[(900 - 1e-3, 20, 100, 10, 100)],
    )
    assert joint_areas_mm2([result])[result.pk] == pytest.approx(1800 * 130, rel=1e-5)


def test_three_blades_have_three_arms():
    result = revision(blades=3)
    assert joint_areas_mm2([result])[result.pk] == pytest.approx(2700 * 150)


def test_a_station_beyond_the_blank_is_left_out():
    result = factories.RevisionFactory(
        blank_length_mm=1000,
        blank_width_mm=150,
        stations=[(400, 20, 100, 10, 150), (600, 20, 100, 10, 20)],
    )
    assert joint_areas_mm2([result])[result.pk] == pytest.approx(1000 * 150)


def test_many_revisions_take_one_query(django_assert_num_queries):
    revisions = [revision() for _ in range(4)]
    with django_assert_num_queries(1):
        assert len(joint_areas_mm2(revisions)) == 4
