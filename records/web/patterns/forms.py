"""A form that shows every kind of field once."""

from django import forms

from records.web.shared.fields import (
    CountField,
    DayField,
    MomentField,
    NumberField,
    PhotoField,
    QuantityField,
)
from records.web.shared.forms import ShopForm


class PatternForm(ShopForm):
    """Every kind of field."""

    moisture = NumberField(
        label="Moisture content",
        unit="%",
        min_value=0,
        max_value=60,
        help_text="Limit 7 to 10 %, shop's practice. Gauge G02, in date.",
    )
    unbalance = NumberField(label="Unbalance", unit="g.mm", keyboard="text")
    blades = CountField(label="Blades", min_value=2)
    torque = QuantityField(
        label="Torque", unit="N.m", help_text="With its unit, such as 24 lbf.ft."
    )
    at = MomentField(label="When at the bench")
    on = DayField(label="Received on", required=False)
    face = forms.ChoiceField(
        label="Glue on",
        choices=[("both", "both faces"), ("lower", "lower face")],
        widget=forms.RadioSelect,
    )
    gauge = forms.ChoiceField(
        label="Gauge", choices=[("G01", "G01 pin meter"), ("G02", "G02 pin meter")]
    )
    squeezed = forms.BooleanField(label="Glue squeezed out along the whole joint")
    note = forms.CharField(
        label="Note", required=False, widget=forms.Textarea(attrs={"rows": 2})
    )
    photo = PhotoField(label="Photo", required=False)
