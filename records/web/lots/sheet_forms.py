"""The form into which a maker's table is copied, in the maker's own units."""

from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from records.engineering.units import convert, parse_number
from records.models import GlueSheetPoint, Material
from records.web.shared.fields import (
    CountField,
    NumberField,
    sentence,
)
from records.web.shared.forms import ShopForm

Row = tuple[Decimal, Decimal]
TENTH, WHOLE = Decimal("0.1"), Decimal(1)
COLUMNS = 2
MOST_LINES = 40


class TableField(forms.CharField):
    """Rows of a table: on each line a temperature, then a time."""

    def __init__(self, **kwargs: Any) -> None:
        attrs = {"rows": 5, "spellcheck": "false", "autocomplete": "off"}
        kwargs.setdefault("widget", forms.Textarea(attrs=attrs))
        super().__init__(required=False, max_length=2000, **kwargs)

    def clean(self, value: Any) -> Any:
        """Read every line; name each that can't be read by its number."""
        lines = super().clean(value).splitlines()
        rows: list[Row] = []
        wrong: list[str] = []
        for number, line in enumerate(lines, 1):
            if not line.strip():
                continue
            try:
                rows.append(_row(line))
            except ValueError as error:
                wrong.append(f"Line {number}: {sentence(str(error))}")
        if len(rows) > MOST_LINES:
            wrong.append(f"A table has at most {MOST_LINES} lines.")
        if wrong:
            raise ValidationError(wrong)
        return rows


def _row(line: str) -> Row:
    cells = line.replace(";", " ").split()
    if len(cells) != COLUMNS:
        raise ValueError("enter a temperature and a time, such as 20 240")
    return parse_number(cells[0]), parse_number(cells[1])


def unit_choice(label: str, *units: tuple[str, str]) -> forms.ChoiceField:
    """Ask in which unit the maker's figures are; the first is the usual one."""
    return forms.ChoiceField(
        label=label,
        choices=units,
        widget=forms.RadioSelect,
        initial=units[0][0],
    )


class SheetForm(ShopForm):
    """A maker's sheet for one glue."""

    adhesive = forms.ModelChoiceField(
        label="Adhesive",
        queryset=Material.objects.in_use().filter(kind=Material.Kind.ADHESIVE),
        empty_label="choose",
    )
    hardener = forms.ModelChoiceField(
        label="Hardener",
        queryset=Material.objects.in_use().filter(kind=Material.Kind.HARDENER),
        required=False,
        empty_label="none, or mixed with water",
    )
    source = forms.CharField(
        label="Maker's document",
        max_length=200,
        help_text="Its title, edition and page.",
    )
    parts_low = NumberField(
        label="Hardener or water to 100 parts of resin by mass, least",
        help_text="0 where nothing is added.",
    )
    parts_high = NumberField(label="Hardener or water to 100 parts, most")
    spread_in = unit_choice(
        "Spread below is in", ("g/m2", "g/m²"), ("lb/1000ft2", "lb/1000 ft²")
    )
    spread_low_gm2 = NumberField(
        label="Spread, least", help_text="On one glue line, in the maker's unit."
    )
    spread_high_gm2 = NumberField(label="Spread, most")
    pressure_in = unit_choice("Pressure below is in", ("MPa", "MPa"), ("psi", "psi"))
    pressure_low_pa = NumberField(label="Pressure at the glue line, least")
    pressure_high_pa = NumberField(label="Pressure at the glue line, most")
    shelf_life_days = CountField(
        label="Shelf life, unopened", unit="d", required=False, min_value=1
    )
    temperatures_in = unit_choice(
        "Temperatures below are in", ("degC", "°C"), ("degF", "°F")
    )
    times_in = unit_choice("Times below are in", ("min", "minutes"), ("h", "hours"))
    working_life = TableField(
        label="Working life",
        help_text="A row a line: temperature, then time. Such as 20 240.",
    )
    open_most = TableField(label="Longest open assembly time")
    closed_least = TableField(label="Shortest closed assembly time")
    closed_most = TableField(label="Longest closed assembly time")
    press_time = TableField(label="Least time under pressure")

    def answers(self) -> dict[str, Any]:
        """Give the sheet in the book's units, its table as points."""
        given = super().answers()
        units = {name: given.pop(name) for name in UNIT_CHOICES}
        for name, unit_in, unit, scale in FIGURES:
            given[name] = _exactly(given[name], units[unit_in], unit, scale)
        given["points"] = [
            (
                quantity,
                _exactly(warmth, units["temperatures_in"], "degC", TENTH),
                _exactly(time, units["times_in"], "min", TENTH),
            )
            for quantity in GlueSheetPoint.Quantity.values
            for warmth, time in given.pop(quantity)
        ]
        return given


UNIT_CHOICES = ("spread_in", "pressure_in", "temperatures_in", "times_in")
FIGURES = (
    ("spread_low_gm2", "spread_in", "g/m2", TENTH),
    ("spread_high_gm2", "spread_in", "g/m2", TENTH),
    ("pressure_low_pa", "pressure_in", "Pa", WHOLE),
    ("pressure_high_pa", "pressure_in", "Pa", WHOLE),
)


def _exactly(value: Decimal, typed_in: str, unit: str, scale: Decimal) -> Decimal:
    """Convert to the unit of the book, and round to the scale that a sheet has."""
    return convert(value, typed_in, unit).quantize(scale)
