"""What a stranger is told: the worst first, nothing private, no false comfort."""

import pytest

from records.models import ConformityRecord, Notice, Propeller
from records.rules.service.public import public_state

RECORD = ConformityRecord(number="CR1")
STOP = Notice(number="N001", title="Hub cracks", do_not_fly=True)
LOOK = Notice(number="N002", title="New care text")


def state(kind="delivered", held=False, notices=(), record=RECORD):  # noqa: FBT002
    propeller = Propeller(serial="2026-001", state=kind)
    return public_state(propeller, held=held, notices=notices, record=record)


@pytest.mark.parametrize("kind", Propeller.State.values)
def test_every_state_has_its_words(kind):
    findings = state(kind)
    assert findings.word
    assert findings.sentences


@pytest.mark.parametrize("kind", ["scrapped", "retired"])
def test_the_end_outweighs_everything(kind):
    findings = state(kind, held=True, notices=[STOP, LOOK])
    assert findings.verdict == "outside"
    assert len(findings.sentences) == 1


def test_a_notice_that_forbids_flying_outweighs_a_hold():
    findings = state(held=True, notices=[LOOK, STOP])
    assert (findings.verdict, findings.word) == ("outside", "do not fly")
    assert "Hub cracks" in findings.sentences[0]
    assert len(findings.sentences) == 3


def test_a_hold_is_said_and_its_comfort_left_out():
    findings = state(held=True)
    assert (findings.verdict, findings.word) == ("hold", "under question")
    assert not any("nothing against it" in s for s in findings.sentences)


def test_another_notice_is_no_good_state_either():
    findings = state(notices=[LOOK])
    assert (findings.verdict, findings.word) == ("hold", "notice in force")


@pytest.mark.parametrize("kind", ["in_work", "returned"])
def test_what_is_not_released_is_never_to_be_fitted_whatever_else(kind):
    for findings in (state(kind), state(kind, held=True), state(kind, notices=[LOOK])):
        assert any("Do not fit it" in s for s in findings.sentences)


def test_a_delivered_one_without_a_record_says_so():
    assert "No conformity record of it is in force." in state(record=None).sentences
