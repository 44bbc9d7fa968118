"""What can never be false of designs, their revisions and stations."""

import pytest
from django.db import IntegrityError, transaction

from records.models import Design, Revision
from tests import factories

pytestmark = pytest.mark.django_db


def refused(make):
    with pytest.raises(IntegrityError), transaction.atomic():
        make()


def test_a_model_has_one_design():
    design = factories.DesignFactory()
    refused(lambda: factories.DesignFactory(model=design.model))


def test_a_revision_is_issued_once_a_design():
    revision = factories.RevisionFactory(number="B")
    factories.RevisionFactory(number="B")
    refused(lambda: factories.RevisionFactory(design=revision.design, number="B"))


def test_a_torque_range_is_in_order():
    refused(lambda: factories.RevisionFactory(torque_low_nm=28))
    assert factories.RevisionFactory(torque_low_nm=27)


def test_one_station_lies_at_a_radius():
    station = factories.RevisionFactory().stations.first()
    refused(
        lambda: factories.StationFactory(
            revision=station.revision,
            radius_mm=station.radius_mm,
            angle_deg=10,
            chord_mm=10,
            thickness_mm=1,
            blank_width_mm=10,
        )
    )


def test_stations_are_spelled_by_their_radius():
    station = factories.RevisionFactory().stations.get(radius_mm=645)
    assert str(station) == "645 mm"


def test_only_its_use_changes_about_a_design():
    assert Design.state_fields == ("in_use",)
    assert not hasattr(Revision, "state_fields")
