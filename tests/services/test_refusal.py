"""A refusal carries every finding, at its field."""

import pytest
from django.core.exceptions import ValidationError

from records.rules.finding import Finding, warning
from records.services.refusal import (
    AlreadyDone,
    Refusal,
    from_validation,
    refuse,
    refuse_if_blocked,
)


def test_a_refusal_says_everything_at_once():
    refusal = Refusal([Finding("Too wet.", "moisture"), Finding("Too short.")])
    assert [f.field for f in refusal.findings] == ["moisture", ""]
    assert str(refusal) == "Too wet. Too short."


def test_warnings_alone_do_not_refuse_and_come_back():
    findings = [warning("Only two minutes are left.")]
    assert refuse_if_blocked(findings) == findings


def test_blockers_refuse_without_the_warnings():
    with pytest.raises(Refusal) as caught:
        refuse_if_blocked([warning("Late."), Finding("Expired.")])
    assert [f.sentence for f in caught.value.findings] == ["Expired."]


def test_nothing_found_refuses_nothing():
    assert refuse_if_blocked([]) == []


def test_a_single_sentence_is_a_refusal():
    assert refuse("No.", "serial").findings == (Finding("No.", "serial"),)


def test_what_a_model_finds_goes_to_its_field_or_to_the_whole():
    error = ValidationError({"serial": ["Taken."], "__all__": ["Out of order."]})
    findings = {(f.field, f.sentence) for f in from_validation(error).findings}
    assert findings == {("serial", "Taken."), ("", "Out of order.")}


def test_a_form_sent_twice_names_its_entry():
    assert "entry 7" in str(AlreadyDone(7))
