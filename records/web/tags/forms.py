"""Forms of tags: the one box, and sheets of labels."""

from typing import Any

from django import forms
from django.db.models import Model

from records.documents.tags.labels import MOST_COPIES, MOST_LABELS, SHEETS
from records.documents.tags.qr import LEAST_MM, USUAL_MM
from records.queries.subjects import MODELS, WORDS, find
from records.queries.tags import things_called
from records.spelling.quantities import in_unit
from records.web.shared.fields import CountField, NumberField
from records.web.shared.forms import ShopForm

BOX = {
    "autofocus": True,
    "autocomplete": "off",
    "autocapitalize": "characters",
    "spellcheck": False,
}
_KINDS = {word: kind for kind, word in WORDS.items()} | {kind: kind for kind in MODELS}


class ScanForm(forms.Form):
    """One box for whatever names a thing."""

    q = forms.CharField(
        label="Scan, or type a number",
        max_length=300,
        widget=forms.TextInput(attrs=BOX),
        help_text="A serial or a part of one, a lot, board, mix or gauge number, the "
        "code beside a tag, or the whole link from a scanner.",
    )


class SerialForm(forms.Form):
    """A stranger's box: a whole serial."""

    serial = forms.CharField(
        label="Serial, as marked on the hub",
        max_length=60,
        widget=forms.TextInput(attrs=BOX),
    )


class LabelForm(ShopForm):
    """What to print, on which sheet."""

    numbers = forms.CharField(
        label="Numbers, one a line",
        max_length=20_000,
        widget=forms.Textarea(attrs={"rows": 6, "autocapitalize": "characters"}),
        help_text="Where two things share a number, put the kind before it: lot L0001.",
    )
    sheet = forms.ChoiceField(
        label="Labels", choices=[(key, sheet.name) for key, sheet in SHEETS.items()]
    )
    copies = CountField(label="Of each", initial=1, min_value=1, max_value=MOST_COPIES)
    start = CountField(
        label="First free label of the sheet",
        initial=1,
        min_value=1,
        help_text="Counted along the rows.",
    )
    size_mm = NumberField(
        label="Tag",
        unit="mm",
        initial=USUAL_MM,
        min_value=LEAST_MM,
        max_value=60,
        help_text="Its side without the white edge, at least "
        f"{in_unit(LEAST_MM, 'mm')}.",
    )

    def clean_numbers(self) -> list[Model]:
        """Find the thing on each line."""
        lines = [line.strip() for line in self.cleaned_data["numbers"].splitlines()]
        wanted = [line for line in lines if line]
        if len(wanted) > MOST_LABELS:
            raise forms.ValidationError(f"At most {MOST_LABELS} at once.")
        chosen: list[Model] = []
        wrong: list[str] = []
        for line in wanted:
            things = named(line)
            if len(things) == 1:
                chosen += things
            else:
                wrong.append(_why(line, things))
        if wrong:
            raise forms.ValidationError(wrong)
        return chosen

    def clean(self) -> dict[str, Any]:
        """See that the first label is on the sheet."""
        given = super().clean() or self.cleaned_data
        sheet, start = SHEETS.get(given.get("sheet", "")), given.get("start")
        if sheet and start and start > sheet.places:
            self.add_error("start", f"This sheet has labels 1 to {sheet.places}.")
        return given


def named(line: str) -> list[Model]:
    """Find what a line names: a number, or a kind and a number."""
    for word, kind in _KINDS.items():
        if line.lower().startswith(f"{word} "):
            thing = find(kind, line[len(word) :])
            return [thing] if thing else []
    return things_called(line)


def _why(line: str, things: list[Model]) -> str:
    if not things:
        return f"Nothing in the book is called {line}."
    return f"{line} is the number of several things. Put the kind before it."
