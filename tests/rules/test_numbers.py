"""A number leads from a tag to a page: no slash, no control character."""

import pytest
from django.urls import reverse

from records.rules.numbers import number_can_be_scanned


@pytest.mark.parametrize("number", ["2026-001", "L0001", "G 7", "a.b_c-1", "x" * 40])
def test_a_number_that_leads_to_its_page_may_be_given(number):
    assert number_can_be_scanned(number, "number") == []
    assert reverse("gauges:gauge", args=[number])


@pytest.mark.parametrize(
    "number", ["", " ", "a/b", "..", "a?b", "a\n", "a\0b", "-a", "a-", "ä", "x" * 41]
)
def test_a_number_that_does_not_is_refused_at_its_field(number):
    (finding,) = number_can_be_scanned(number, "number")
    assert finding.field == "number"
    assert finding.blocks
