"""What speaks against correcting or withdrawing a reading."""

import dataclasses

import pytest

from records.queries.readings.context import context_for
from records.rules.readings.corrections import may_be_corrected, may_be_withdrawn
from records.rules.readings.draft import Draft
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def reading(shop):
    characteristic = factories.CharacteristicFactory()
    blank = factories.BlankFactory(route=characteristic.stage.revision)
    return factories.ReadingFactory(
        characteristic=characteristic, propeller=factories.PropellerFactory(blank=blank)
    )


def against(reading, reason="Misread", **changes):
    draft = Draft(
        subject=reading.propeller,
        characteristic=reading.characteristic,
        entered="1.1",
        unit="mm",
        happened_at=reading.happened_at,
    )
    draft = dataclasses.replace(draft, **changes)
    context = context_for(draft.subject, [draft.characteristic])
    findings = may_be_corrected(reading, draft, context, reason, factories.NOON)
    return [f.sentence for f in findings]


def test_a_slip_is_corrected(reading):
    assert against(reading) == []


def test_figure_unit_and_reason_are_asked_at_once(reading):
    assert len(against(reading, reason=" ", entered="x", unit="psi")) == 3


def test_a_correction_is_not_asked_for_hold_points(reading):
    factories.StageFactory(
        revision=reading.characteristic.stage.revision, order=0, hold_point=True
    )
    assert against(reading) == []


def test_a_scrapped_propeller_can_still_be_put_right_on_paper(reading):
    reading.propeller.state = "scrapped"
    reading.propeller.save(update_fields=["state"])
    assert against(reading) == []


def test_only_the_newest_row_is_corrected(reading):
    factories.ReadingFactory(corrects=reading, reason="Slip")
    assert against(reading) == ["This reading was corrected already: take the newest."]


def test_a_withdrawn_or_computed_row_is_left(reading):
    row = factories.ReadingFactory(verdict="withdrawn")
    assert may_be_withdrawn(row, "Again")
    characteristic = factories.CharacteristicFactory(
        computed="range_of_blades", compares="tip", name="Track"
    )
    computed = factories.ReadingFactory(characteristic=characteristic)
    [finding] = may_be_withdrawn(computed, "Wrong")
    assert finding.sentence == ("Track is computed: correct the reading it comes from.")
