"""A stage is signed once nothing is missing, honestly, and bound to what it covers."""

import dataclasses
import datetime as dt

import pytest

from records.models import (
    LedgerEntry,
    MaterialChange,
    RefusedSignature,
    SignOff,
)
from records.queries.builds.progress import progress_of
from records.rules.finding import Finding
from records.services.ledger import Act
from records.services.readings.log import correct_reading, log_reading
from records.services.refusal import Refusal
from records.services.signoffs import refuse_signature, sign_stage
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def propeller(shop):
    return factories.PropellerFactory()


@pytest.fixture
def stage(propeller):
    return factories.StageFactory(
        revision=propeller.blank.route, name="Balance", code="balance"
    )


@pytest.fixture
def track(stage):
    characteristic = factories.CharacteristicFactory(
        stage=stage, name="Track", code="track"
    )
    factories.LimitFactory(characteristic=characteristic, high="1.5")
    return characteristic


@pytest.fixture
def inspector(owner):
    return factories.owner(name="Second Person")


@pytest.fixture
def log(act, propeller, track, noon):
    def call(entered="1.0", by=act):
        return log_reading(
            act=by,
            subject=propeller,
            characteristic=track,
            entered=entered,
            unit="mm",
            happened_at=noon,
        )

    return call


@pytest.fixture
def sign(act, propeller, stage):
    def call(by=None, at=None, form_key="", **changes):
        me = Act(by=by or act.by, at=at or act.at, form_key=form_key)
        facts = {
            "subject": propeller,
            "stage": stage,
            "meaning": "Inspected, as required",
            "check_kind": "self",
            "method": "password",
            "happened_at": me.at,
        }
        return sign_stage(act=me, **{**facts, **changes})

    return call


def sentences(refused):
    return [f.sentence for f in refused.value.findings]


def state_of(propeller):
    [state] = progress_of(propeller).of(propeller)
    return state


def test_a_signature_has_name_time_meaning_kind_and_digest(log, sign, propeller, act):
    log()
    signoff = sign()
    assert signoff.printed_name == act.by.name
    assert signoff.meaning == "Inspected, as required"
    assert signoff.digest == state_of(propeller).digest()
    assert state_of(propeller).signed == signoff


def test_what_is_missing_refuses_and_the_attempt_is_written_down(sign, stage, track):
    with pytest.raises(Refusal) as refused:
        sign()
    assert sentences(refused) == ["Track is missing."]
    assert not SignOff.objects.exists()
    kept = RefusedSignature.objects.get()
    assert (kept.why, kept.stage) == ("Track is missing.", stage)
    assert LedgerEntry.objects.get().verb == "refuse signature"


def test_a_correction_voids_the_signature_and_asks_for_a_new_one(
    log, sign, act, propeller
):
    reading = log()
    sign()
    correct_reading(act=act, reading=reading, entered="1.1", reason="Misread")
    state = state_of(propeller)
    assert state.signed is None
    [old] = state.signatures
    assert "has changed" in old.void
    assert sign()
    assert state_of(propeller).signed is not None


def test_another_reading_voids_the_signature(log, sign, propeller):
    log()
    sign()
    log("1.2")
    assert state_of(propeller).signed is None


def test_a_reading_outside_is_not_signed_off(log, sign):
    log("1.6")
    with pytest.raises(Refusal) as refused:
        sign()
    [sentence] = sentences(refused)
    assert sentence.startswith(
        "Track: 1.6\xa0mm (0.063\xa0in) is outside (at most 1.5\xa0mm"
    )
    assert sentence.endswith("Open a deviation, or rework and read it again.")


def test_who_took_a_reading_is_not_independent_of_it(log, sign, inspector):
    log()
    with pytest.raises(Refusal, match="had a hand in this stage"):
        sign(check_kind="independent")
    assert sign(by=inspector, check_kind="independent")


def test_who_corrected_away_what_they_read_is_still_not_independent(
    log, sign, act, inspector
):
    mine = dataclasses.replace(act, by=inspector)
    reading = log(by=mine)
    correct_reading(act=act, reading=reading, entered="1.1", reason="Misread")
    with pytest.raises(Refusal, match="had a hand in this stage"):
        sign(by=inspector, check_kind="independent")


def test_the_same_person_waits_for_the_shops_delay(log, sign, act, shop):
    log()
    wait = dt.timedelta(hours=shop.same_person_delay_h)
    early = act.at + wait - dt.timedelta(seconds=1)
    with pytest.raises(Refusal, match=r"the shop waits 12\sh"):
        sign(at=early, check_kind="later")
    assert sign(at=act.at + wait, check_kind="later")


def test_a_stranger_to_the_stage_is_not_the_same_person_again(log, sign, inspector):
    log()
    with pytest.raises(Refusal, match="had no hand in this stage"):
        sign(by=inspector, check_kind="later")


def test_a_stage_asks_for_its_kind_of_check_at_least(propeller, log, sign, inspector):
    strict = factories.StageFactory(
        revision=propeller.blank.route, check_kind="independent", name="Release"
    )
    log()
    sign()
    with pytest.raises(Refusal, match="needs at least: independent person"):
        sign(stage=strict, by=inspector)
    assert sign(stage=strict, by=inspector, check_kind="independent")


def test_nobody_is_independent_of_a_build_for_want_of_readings(
    propeller, log, sign, inspector
):
    last = factories.StageFactory(revision=propeller.blank.route)
    log()
    with pytest.raises(Refusal, match="had a hand"):
        sign(stage=last, check_kind="independent")
    assert sign(stage=last, by=inspector, check_kind="independent")


def test_a_later_look_may_be_added_but_not_the_same_twice(log, sign, inspector):
    log()
    sign()
    with pytest.raises(Refusal, match="has signed Balance already"):
        sign()
    assert sign(by=inspector, check_kind="independent")


def test_authority_has_dates(log, sign, inspector):
    log()
    inspector.authorities.update(until_on=dt.date(2020, 1, 2))
    with pytest.raises(Refusal, match="no authority to sign off stages"):
        sign(by=inspector)


def test_what_was_shown_is_what_is_signed(log, sign, propeller):
    log()
    seen = state_of(propeller).digest()
    log("1.2")
    with pytest.raises(Refusal, match="has changed since the page was opened"):
        sign(seen_digest=seen)
    assert sign(seen_digest=state_of(propeller).digest())


def test_a_held_propeller_is_read_but_not_signed(log, sign, propeller):
    factories.HoldFactory(blank=propeller.blank, reason="Glue under question")
    log()
    with pytest.raises(Refusal, match="Glue under question"):
        sign()


def test_a_scrapped_propeller_is_not_signed(log, sign, propeller):
    log()
    propeller.state = propeller.State.SCRAPPED
    propeller.save(update_fields=["state"])
    with pytest.raises(Refusal, match="is scrapped"):
        sign()


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"meaning": " "}, "meaning"),
        ({"check_kind": "hasty"}, "check_kind"),
        ({"happened_at": dt.datetime(2100, 1, 1, tzinfo=dt.UTC)}, "happened_at"),
    ],
)
def test_a_signature_is_whole(log, sign, changes, field):
    log()
    with pytest.raises(Refusal) as refused:
        sign(**changes)
    assert field in {f.field for f in refused.value.findings}


def test_a_stage_is_signed_on_its_own_thing(log, sign, propeller):
    log()
    with pytest.raises(Refusal, match="is not signed on blank"):
        sign(subject=propeller.blank)


def test_a_refused_form_may_be_sent_again(log, sign, track):
    with pytest.raises(Refusal):
        sign(form_key="k")
    log()
    assert sign(form_key="k")


def test_a_wrong_password_is_written_down_too(act, propeller, stage):
    why = (Finding("This password is not right."),)
    kept = refuse_signature(act=act, subject=propeller, stage=stage, why=why)
    assert (kept.propeller, kept.why) == (propeller, "This password is not right.")


# What goes stale


def test_material_removed_makes_a_balance_stale(propeller, act, noon, sign):
    stage = factories.StageFactory(revision=propeller.blank.route, goes_stale=True)
    characteristic = factories.CharacteristicFactory(stage=stage, name="Unbalance")
    factories.ReadingFactory(characteristic=characteristic, propeller=propeller)
    sign(stage=stage)
    MaterialChange.objects.create(
        propeller=propeller,
        happened_at=noon + dt.timedelta(hours=1),
        what="removed",
        place="tip of blade 2",
        reason="Nick",
        written_at=act.at,
        written_by=act.by,
    )
    with pytest.raises(Refusal) as refused:
        sign(stage=stage)
    assert sentences(refused) == [
        "Unbalance has to be read again: material removed afterwards (tip of blade 2)."
    ]
    state = next(s for s in progress_of(propeller).states if s.stage == stage)
    assert state.signed is None
    later = noon + dt.timedelta(hours=2)
    factories.ReadingFactory(
        characteristic=characteristic, propeller=propeller, happened_at=later
    )
    assert sign(stage=stage)
