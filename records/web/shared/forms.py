"""The form that every screen's form is made from."""

import uuid
from typing import Any

from django import forms

SENTENCES = {
    "required": "This is needed. Fill it in.",
    "invalid_choice": "Choose one of the list.",
    "max_length": "Shorten this to %(limit_value)d characters; it has %(show_value)d.",
    "max_value": "At most %(limit_value)s. Check the decimal point and the unit.",
    "min_value": "At least %(limit_value)s. Check the decimal point and the unit.",
}


class ShopForm(forms.Form):
    """A form that counts once: its key is fresh on each page and kept on a retry."""

    form_key = forms.UUIDField(
        widget=forms.HiddenInput, initial=uuid.uuid4, required=False
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("label_suffix", "")
        super().__init__(*args, **kwargs)
        self.order_fields([n for n in self.fields if n != "form_key"])
        for field in self.fields.values():
            _speak(field)

    def add_prefix(self, field_name: str) -> str:
        """Name a field in the page; the key has one name, whatever the prefix."""
        if field_name == "form_key":
            return field_name
        return super().add_prefix(field_name)

    def answers(self) -> dict[str, Any]:
        """Give what was entered, checked, without the form's key."""
        return {n: v for n, v in self.cleaned_data.items() if n != "form_key"}


def _speak(field: forms.Field) -> None:
    """Put the shop's sentences where a field says nothing of its own."""
    standard = _standard_messages(type(field))
    for code, sentence in SENTENCES.items():
        if field.error_messages.get(code) == standard.get(code):
            field.error_messages[code] = sentence


def _standard_messages(kind: type[forms.Field]) -> dict[str, Any]:
    own_messages: dict[str, Any] = {}
    for base in reversed(kind.__mro__):
        own_messages.update(getattr(base, "default_error_messages", {}))
    return own_messages
