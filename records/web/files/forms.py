"""The form that attaches a photo or paper to a thing."""

from django import forms

from records.web.shared.fields import MomentField, PaperField
from records.web.shared.forms import ShopForm


class AttachForm(ShopForm):
    """A photo or paper with what it shows."""

    photo = PaperField(label="Photo, or paper as PDF")
    caption = forms.CharField(label="What it shows", max_length=120, required=False)
    happened_at = MomentField(label="Taken at")
