"""A finding blocks unless it only warns."""

from records.rules.finding import Finding, Weight, warning


def test_a_finding_blocks_by_itself():
    assert Finding("The lot is refused.").blocks


def test_a_warning_does_not_block_and_keeps_its_field():
    findings = warning("The working life ends in two minutes.", "joint")
    assert not findings.blocks
    assert (findings.field, findings.weight) == ("joint", Weight.WARNS)
