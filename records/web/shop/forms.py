"""The form for the shop's settings."""

from django import forms

from records.models import Shop
from records.web.shared.fields import CountField
from records.web.shared.forms import ShopForm

PATTERN_HINT = "{n:04} is the number, {year} the year."


def pattern(label: str) -> forms.CharField:
    """Make a field for a number pattern."""
    plain = {"autocapitalize": "none", "autocomplete": "off", "spellcheck": False}
    return forms.CharField(
        label=label, max_length=40, widget=forms.TextInput(attrs=plain)
    )


class ShopSettingsForm(ShopForm):
    """Everything that the shop decides about itself."""

    name = forms.CharField(label="Name of the shop", max_length=80)
    address = forms.CharField(
        label="Address",
        required=False,
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    contact = forms.CharField(
        label="Telephone or e-mail for owners",
        required=False,
        max_length=120,
        help_text="Anybody who scans a propeller's tag sees it.",
    )
    place = forms.CharField(label="Place printed on records", required=False)
    base_url = forms.CharField(
        label="Address printed in tags",
        max_length=200,
        help_text="Where a phone in the shop, or an owner, reaches this program. "
        "Tags printed before keep the old one; their serial still works.",
    )
    units_first = forms.ChoiceField(label="Units shown first", choices=Shop.Units)
    decision_rule = forms.ChoiceField(
        label="A reading near its limit",
        choices=Shop.DecisionRule,
        help_text="Holds for readings from now on; nothing is judged again.",
    )
    overdue_gauge = forms.ChoiceField(
        label="A gauge past its calibration date", choices=Shop.OverdueGauge
    )
    same_person_delay_h = CountField(
        label="Before the same person may check again",
        unit="h",
        min_value=0,
        max_value=720,
    )
    retention = forms.CharField(label="How long records are kept", max_length=120)
    serial_pattern = pattern("Propellers")
    lot_pattern = pattern("Lots")
    board_pattern = pattern("Boards")
    blank_pattern = pattern("Blanks")
    mix_pattern = pattern("Mixes")
    load_pattern = pattern("Press loads")
    coupon_pattern = pattern("Coupons")
    deviation_pattern = pattern("Deviations")
    conformity_pattern = pattern("Conformity records")
