"""What can never be false of deviations, whatever wrote them."""

import pytest
from django.db import IntegrityError, transaction

from records.models import Hold, StageToRepeat
from tests import factories
from tests.factories import NOON

pytestmark = pytest.mark.django_db


def refused(name, make):
    with pytest.raises(IntegrityError, match=name), transaction.atomic():
        make()


def two_things():
    return {"board": factories.BoardFactory(), "lot": factories.LotFactory()}


def test_deviation_is_closed_with_its_time_or_open_without(shop):
    for fields in (
        {"state": "closed", "closed_at": None},
        {"state": "open", "closed_at": NOON},
    ):
        refused(
            "closed_deviation_says_when",
            lambda fields=fields: factories.DeviationFactory(**fields),
        )


def test_number_is_given_once(shop):
    factories.DeviationFactory(number="DX-1")
    refused("number", lambda: factories.DeviationFactory(number="DX-1"))


def test_one_thing_a_row(shop):
    refused(
        "deviation_has_one_subject_a_row",
        lambda: factories.DeviationSubjectFactory(**two_things()),
    )
    refused("hold_has_one_subject", lambda: factories.HoldFactory(**two_things()))
    refused("hold_has_one_subject", factories.HoldFactory)


def test_only_a_gauge_has_a_span(shop):
    board, gauge = factories.BoardFactory(), factories.GaugeFactory()
    refused(
        "only_a_gauge_hold_has_a_span_of_readings",
        lambda: factories.HoldFactory(board=board, readings_from=NOON),
    )
    assert factories.HoldFactory(gauge=gauge, readings_from=NOON).pk


def test_joint_is_held_in_a_blank(shop):
    mix, blank = factories.MixFactory(), factories.BlankFactory()
    refused("held_joint_is_in_a_blank", lambda: factories.HoldFactory(mix=mix, joint=1))
    assert factories.HoldFactory(blank=blank, joint=1).pk


def test_hold_is_released_once(shop):
    release = factories.HoldReleaseFactory()
    refused("hold_id", lambda: factories.HoldReleaseFactory(hold=release.hold))
    assert not Hold.objects.standing().exists()


@pytest.mark.parametrize("kind", ["use_as_is", "repair"])
@pytest.mark.parametrize("missing", ["design_authority", "plain_words"])
def test_concession_has_authority_and_plain_words(shop, kind, missing):
    words = {"design_authority": "A. Draughtsman", "plain_words": "Short by 1 mm."}
    refused(
        "concession_names_design_authority",
        lambda: factories.DispositionFactory(kind=kind, **words | {missing: ""}),
    )
    assert factories.DispositionFactory(kind=kind, **words).pk


def test_scrap_has_its_proof(shop):
    refused(
        "scrap_has_a_photo_as_proof",
        lambda: factories.DispositionFactory(kind="scrap"),
    )
    photo = factories.AttachmentFactory()
    assert factories.DispositionFactory(kind="scrap", proof=photo).pk


def test_decision_names_each_thing_and_stage_once(shop):
    decided = factories.DisposedSubjectFactory()
    refused(
        "disposition_id",
        lambda: factories.DisposedSubjectFactory(
            disposition=decided.disposition, subject=decided.subject
        ),
    )
    row = {
        "disposition": decided.disposition,
        "stage": factories.StageFactory(),
        "written_at": NOON,
        "written_by": decided.written_by,
    }
    StageToRepeat.objects.create(**row)
    refused("disposition_id", lambda: StageToRepeat.objects.create(**row))


def test_effect_is_looked_for_after_the_action(shop):
    refused(
        "effect_is_looked_for_after_the_action",
        lambda: factories.CorrectiveActionFactory(look_on="2026-03-31"),
    )
    assert factories.CorrectiveActionFactory(look_on="2026-04-01").pk


def test_things_are_called_by_what_they_say(shop):
    deviation = factories.DeviationFactory(number="DX-2", title="Tip split")
    assert str(deviation) == "DX-2 Tip split"
    assert str(factories.EffectivenessCheckFactory(effective=False)) == "not effective"
    assert str(factories.DispositionFactory(kind="rework")) == "rework"
    assert str(factories.DeviationSubjectFactory()) == "about a board"
