"""The form that every screen's form is made from."""

import uuid
from typing import Any

from django import forms

NEEDED = "This is needed. Fill it in."
_DJANGOS_NEEDED = forms.Field.default_error_messages["required"]


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
            if field.error_messages.get("required") == _DJANGOS_NEEDED:
                field.error_messages["required"] = NEEDED

    def add_prefix(self, field_name: str) -> str:
        """Name a field in the page; the key has one name, whatever the prefix."""
        if field_name == "form_key":
            return field_name
        return super().add_prefix(field_name)

    def answers(self) -> dict[str, Any]:
        """Give what was entered, checked, without the form's key."""
        return {n: v for n, v in self.cleaned_data.items() if n != "form_key"}
