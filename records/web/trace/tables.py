"""Lists of serials with where they are and why they are named."""

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString

from records.web.shared.tables import ShopTable


class SerialTable(ShopTable):
    """Serials that something reached."""

    serial = tables.Column()
    model = tables.Column()
    state = tables.Column()
    owner = tables.Column(default="the shop")
    handed_over = tables.Column(verbose_name="Since")
    blank = tables.Column()
    through = tables.Column(orderable=False)

    class Meta(ShopTable.Meta):
        empty_text = "No serial is made with it."

    def render_serial(self, value: str) -> SafeString:
        """Link to the history of a serial."""
        return format_html(
            '<a class="number" href="{}">{}</a>',
            reverse("trace:serial", args=[value]),
            value,
        )

    def value_serial(self, value: str) -> str:
        """Export the bare serial."""
        return value


class AnswerTable(SerialTable):
    """Serials in or out of an answer, with what each was made of."""

    handed_over = None
    answer = tables.Column(verbose_name="Named")
    through = tables.Column(verbose_name="Because", orderable=False)
    made_of = tables.Column(verbose_name="Made of", orderable=False)

    class Meta(ShopTable.Meta):
        sequence = ("serial", "answer", "state", "owner", "through", "made_of", "...")
        empty_text = "No serial."
