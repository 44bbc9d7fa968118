"""A list that shows what lists look like."""

from typing import Any

import django_tables2
from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from records.web.shared.tables import ShopTable

ROWS = [
    {"number": "B0012", "lot": "L0003", "moisture": "8.4 %", "verdict": "inside"},
    {"number": "B0013", "lot": "L0003", "moisture": "10.6 %", "verdict": "outside"},
    {"number": "B0014", "lot": "L0004", "moisture": "9.9 %", "verdict": "undecided"},
]


class PatternTable(ShopTable):
    """Three boards."""

    number = django_tables2.Column()
    lot = django_tables2.Column()
    moisture = django_tables2.Column()
    verdict = django_tables2.Column(verbose_name="Verdict")

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(ROWS, **kwargs)

    def render_verdict(self, value: str) -> SafeString:
        """Draw the verdict as everywhere."""
        return render_to_string("parts/verdict.html", {"verdict": value})
