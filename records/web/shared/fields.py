"""Fields as a bench needs them: numbers as typed, moments, days, photos, papers."""

import datetime as dt
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile
from django.forms.renderers import TemplatesSetting
from django.utils import timezone

from records.engineering.units import dimension, parse_number, parse_quantity, units_of
from records.web.shared.uploads import Upload, read_paper, read_photo, read_text


class ShopRenderer(TemplatesSetting):
    """Draws forms from the shop's own parts."""

    form_template_name = "parts/fields.html"
    field_template_name = "parts/field.html"


def sentence(text: str) -> str:
    """Turn what the engineering floor says into a sentence for the field."""
    whole = text[:1].upper() + text[1:]
    return whole if whole.endswith(".") else f"{whole}."


class NumberField(forms.DecimalField):
    """A number, digit for digit: 10.3, 10,3 or 2 3/8. `unit` stands beside it.

    `keyboard` is "decimal" for digits only; "text" where a sign or a fraction is
    typed, because the digit keyboard of some telephones has neither.
    """

    def __init__(
        self, *, unit: str = "", keyboard: str = "decimal", **kwargs: Any
    ) -> None:
        typed = forms.TextInput(attrs={"inputmode": keyboard, "autocomplete": "off"})
        kwargs.setdefault("widget", typed)
        super().__init__(**kwargs)
        self.unit = unit

    def to_python(self, value: Any) -> Any:
        """Read the number, or say what is wrong with it."""
        if value in self.empty_values:
            return None
        if isinstance(value, Decimal):
            return value
        try:
            return parse_number(str(value))
        except ValueError as error:
            raise ValidationError(sentence(str(error)), code="invalid") from error

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        """Add nothing: the limits are spelled beside the field."""
        return {}


class CountField(forms.IntegerField):
    """A whole number of things."""

    def __init__(self, *, unit: str = "", **kwargs: Any) -> None:
        typed = forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"})
        kwargs.setdefault("widget", typed)
        super().__init__(**kwargs)
        self.error_messages["invalid"] = "Enter a whole number, such as 4."
        self.unit = unit

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        """Add nothing: the limits are spelled beside the field."""
        return {}


class QuantityField(forms.CharField):
    """A number with its unit, such as "10.3 mm"; without one `unit` is meant.

    Gives the number and the unit's symbol, both as entered.
    """

    def __init__(self, *, unit: str, **kwargs: Any) -> None:
        kwargs.setdefault("widget", forms.TextInput(attrs={"autocomplete": "off"}))
        super().__init__(max_length=60, **kwargs)
        self.unit = unit

    def clean(self, value: Any) -> Any:
        """Read number and unit, and refuse a unit of another kind."""
        typed = super().clean(value)
        if not typed:
            return None
        try:
            if typed[-1].isdigit():
                return parse_number(typed), self.unit
            number, unit = parse_quantity(typed)
        except ValueError as error:
            raise ValidationError(sentence(str(error)), code="invalid") from error
        if dimension(unit) != dimension(self.unit):
            allowed = ", ".join(units_of(dimension(self.unit)))
            message = f"{unit} is not a unit of {dimension(self.unit)}. Use {allowed}."
            raise ValidationError(message, code="unit")
        return number, unit


class MomentField(forms.DateTimeField):
    """A date and time in the shop's zone; now, where it is needed."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault(
            "widget",
            forms.DateTimeInput({"type": "datetime-local"}, format="%Y-%m-%dT%H:%M"),
        )
        if kwargs.get("required", True):
            kwargs.setdefault("initial", this_minute)
        super().__init__(**kwargs)
        self.error_messages |= {
            "invalid": "Enter the date and time as 2026-03-04 14:05.",
            "ambiguous_timezone": (
                "The clocks change in this hour: it comes twice, or not at all. "
                "Enter a time an hour earlier or later, and say so in a note."
            ),
        }

    def to_python(self, value: Any) -> dt.datetime | None:
        """Read the moment in the shop's zone."""
        try:
            return super().to_python(value)
        except ValidationError as error:
            code = getattr(error, "code", None) or "invalid"
            known = self.error_messages.get(code, self.error_messages["invalid"])
            raise ValidationError(known, code=code) from error


class DayField(forms.DateField):
    """A day, as the calendar of the telephone gives it."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault(
            "widget", forms.DateInput({"type": "date"}, format="%Y-%m-%d")
        )
        super().__init__(**kwargs)
        self.error_messages["invalid"] = "Enter the day as 2026-03-04."


def this_minute() -> dt.datetime:
    """Give the present minute: what a bench clock shows."""
    return timezone.now().replace(second=0, microsecond=0)


def today() -> dt.date:
    """Give the present day in the shop's zone."""
    return timezone.localdate()


class PhotoField(forms.FileField):
    """A photo, known by its content; gives its name and data as sent."""

    def __init__(self, **kwargs: Any) -> None:
        accept = {"accept": "image/jpeg,image/png,image/webp"}
        kwargs.setdefault("widget", forms.FileInput(attrs=accept))
        super().__init__(max_length=200, **kwargs)

    def clean(self, data: Any, initial: Any = None) -> Any:
        """Read the picture."""
        return _read(super().clean(data, initial), read_photo)


class PaperField(forms.FileField):
    """A paper that came with something: a PDF or a photo of it, as sent."""

    def __init__(self, **kwargs: Any) -> None:
        accept = {"accept": "application/pdf,image/jpeg,image/png,image/webp"}
        kwargs.setdefault("widget", forms.FileInput(attrs=accept))
        super().__init__(max_length=200, **kwargs)

    def clean(self, data: Any, initial: Any = None) -> Any:
        """Read the paper, known by its content."""
        return _read(super().clean(data, initial), read_paper)


class TextFileField(forms.FileField):
    """A plain text file, such as a logger's CSV; gives its text."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("widget", forms.FileInput(attrs={"accept": ".csv,.txt"}))
        super().__init__(max_length=200, **kwargs)

    def clean(self, data: Any, initial: Any = None) -> Any:
        """Read the text."""
        return _read(super().clean(data, initial), read_text)


def _read(data: Any, reader: Any) -> Upload | str | None:
    if not isinstance(data, UploadedFile):
        return None
    try:
        upload: Upload | str = reader(data)
    except ValueError as error:
        raise ValidationError(str(error), code="invalid") from error
    return upload
