"""Forms of the trace pages."""

import datetime as dt
from typing import Any

from django import forms
from django.db.models import Model

from records.models import Lot, Mix
from records.queries.reach.suspects import Question, materials_named
from records.web.shared.fields import DayField, MomentField
from records.web.shared.forms import ShopForm

MOST_NUMBERS = 50


class FindForm(forms.Form):
    """One box: a serial, part of one, or the number of anything."""

    q = forms.CharField(label="Serial, or any number", max_length=60, required=False)


class QuestionForm(forms.Form):
    """Materials by number, or days of pressing, or both."""

    materials = forms.CharField(
        label="Made with",
        required=False,
        max_length=400,
        help_text="Numbers of lots, boards, mixes, press loads: L0003, M0012",
    )
    pressed_from = DayField(label="Or pressed from", required=False)
    pressed_until = DayField(label="Until, this day included", required=False)

    def clean_materials(self) -> list[Model]:
        """Find the materials, or say which numbers are not in the book."""
        typed = self.cleaned_data["materials"].replace(";", ",").replace(",", " ")
        numbers = typed.split()
        if len(numbers) > MOST_NUMBERS:
            raise forms.ValidationError(f"At most {MOST_NUMBERS} numbers at once.")
        materials, unknown = materials_named(numbers)
        if unknown:
            raise forms.ValidationError(
                f"Not in the book: {', '.join(unknown)}. Check the numbers."
            )
        return materials

    def clean(self) -> dict[str, Any]:
        """See that something is asked, and that the days are in order."""
        cleaned = super().clean() or {}
        start, until = cleaned.get("pressed_from"), cleaned.get("pressed_until")
        if start and until and until < start:
            self.add_error("pressed_until", "This day is before the first.")
        if not self.errors and not (cleaned.get("materials") or start or until):
            raise forms.ValidationError("Name a material, or days of pressing.")
        return cleaned

    def question(self) -> Question:
        """Give the question that was asked."""
        data: dict[str, Any] = self.cleaned_data
        start: dt.date | None = data["pressed_from"]
        return Question(data["materials"], start, data["pressed_until"])


class UseForm(ShopForm):
    """Material put on after glue-up: a lot or a mix, where and when."""

    lot = forms.ModelChoiceField(
        Lot.objects.filter(state=Lot.State.ACCEPTED).select_related("material"),
        label="Lot",
        required=False,
    )
    mix = forms.ModelChoiceField(
        Mix.objects.all(), label="Or mix of glue", required=False
    )
    place = forms.CharField(
        label="Where, and for what",
        max_length=120,
        help_text="Leading edge of blade 1, plug in the hub, second coat…",
    )
    happened_at = MomentField(label="When")

    def clean(self) -> dict[str, Any]:
        """See that it is a lot or a mix, and one of them only."""
        cleaned = super().clean() or {}
        if bool(cleaned.get("lot")) == bool(cleaned.get("mix")):
            self.add_error("lot", "Choose a lot, or a mix of glue: one of them.")
        return cleaned

    def answers(self) -> dict[str, Any]:
        """Give the material, whichever it is, and the rest."""
        fields = super().answers()
        lot, mix = fields.pop("lot"), fields.pop("mix")
        return fields | {"material": lot or mix}
