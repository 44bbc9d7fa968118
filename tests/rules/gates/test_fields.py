"""A field of the record that nothing fills is named before the release."""

import pytest

from records.models import Characteristic
from records.queries.builds.progress import progress_of
from records.rules.gates.fields import FIELDS, empty_fields
from tests import factories, finished

pytestmark = pytest.mark.django_db
built, made = finished.built, finished.made


def test_the_default_route_fills_every_field(made):
    assert list(empty_fields(progress_of(made.propeller))) == []


def test_a_route_without_a_purpose_is_said_to_leave_its_field_empty(shop):
    propeller = factories.PropellerFactory()
    stage = factories.StageFactory(revision=propeller.blank.route)
    factories.CharacteristicFactory(stage=stage, code="track", name="Track")
    findings = list(empty_fields(progress_of(propeller)))
    assert len(findings) == len(FIELDS)
    assert not any(finding.blocks for finding in findings)
    assert any(
        f.sentence.startswith("Field 23 of the conformity record stays without “track”")
        for f in findings
    )


def test_what_is_asked_for_or_read_is_not_empty(shop):
    propeller = factories.PropellerFactory()
    stage = factories.StageFactory(revision=propeller.blank.route)
    purpose = Characteristic.Purpose
    factories.CharacteristicFactory(stage=stage, purpose=purpose.TRACK)
    wanted = factories.CharacteristicFactory(
        stage=stage, purpose=purpose.MASS, required=False
    )
    told = [f.sentence for f in empty_fields(progress_of(propeller))]
    assert not any("track" in sentence for sentence in told)
    assert any("finished mass" in sentence for sentence in told)
    factories.ReadingFactory(propeller=propeller, characteristic=wanted)
    told = [f.sentence for f in empty_fields(progress_of(propeller))]
    assert not any("finished mass" in sentence for sentence in told)
