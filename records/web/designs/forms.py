"""Forms about designs and their revisions."""

from typing import Any, Final

from django import forms
from django.forms import BoundField

from records.models import Design, Material, Revision, Station
from records.web.designs.lengths import LengthField
from records.web.designs.station_rows import (
    COLUMNS,
    MOST_ROWS,
    ROWS,
    filled_rows,
    initial_rows,
    name_of,
    station_fields,
)
from records.web.shared.fields import CountField, NumberField
from records.web.shared.forms import ShopForm

AREA = {"rows": 3}
# Sections of the form, each with its fields in order.
SECTIONS: Final = (
    ("This revision", ("number", "drawing", "reason", "design_authority")),
    ("Certification", ("basis", "basis_reference")),
    (
        "Propeller",
        (
            *("blades", "hand", "mounting", "diameter_mm", "pitch_mm"),
            *("reference_station_mm", "max_rpm", "max_power_kw", "suited_to"),
        ),
    ),
    (
        "Stack",
        (
            *("laminations", "lamination_mm", "blank_length_mm", "blank_width_mm"),
            "species",
        ),
    ),
    (
        "Hub",
        (
            *("hub_thickness_mm", "hub_diameter_mm", "bore_mm", "bolt_circle_mm"),
            *("bolt_holes", "bolt_hole_mm", "counterbore"),
        ),
    ),
    (
        "Bolts",
        (
            *("bolt", "torque_low_nm", "torque_high_nm", "torque_dry"),
            *("torque_sequence", "retorque", "face_plate_mm"),
        ),
    ),
    ("Edges and finish", ("edge_protection", "finish_system")),
    ("For the owner", ("care", "damage_limits")),
)
LENGTHS: Final = (
    *("diameter_mm", "pitch_mm", "reference_station_mm", "lamination_mm"),
    *("blank_length_mm", "blank_width_mm", "hub_thickness_mm", "hub_diameter_mm"),
    *("bore_mm", "bolt_circle_mm", "bolt_hole_mm", "face_plate_mm"),
)
COUNTS: Final = {"blades": 2, "laminations": 2, "bolt_holes": 1, "max_rpm": 1}
NUMBERS: Final = {"max_power_kw": "kW", "torque_low_nm": "N.m", "torque_high_nm": "N.m"}
FIGURES: Final = {*LENGTHS, *COUNTS, *NUMBERS}
# Said anew for every revision, never taken over.
ASKED_ANEW: Final = {"number", "reason", "basis", "species"}


class DesignForm(ShopForm):
    """A propeller model."""

    model = forms.CharField(label="Model designation", max_length=60)
    description = forms.CharField(label="In words", max_length=200, required=False)


class UseForm(ShopForm):
    """Nothing to enter: the button is the answer."""


class RevisionForm(ShopForm):
    """A drawing revision whole: its figures, and the table of stations."""

    def __init__(
        self, *args: Any, design: Design, before: Revision | None, **kwargs: Any
    ) -> None:
        kwargs["initial"] = _initial(before, kwargs.pop("stations", []))
        super().__init__(*args, **kwargs)
        names = [name for _, fields in SECTIONS for name in fields]
        self.fields.update({name: _field(name) for name in names})
        filled = sum(key.startswith("stations-") for key in kwargs["initial"])
        self.rows = min(MOST_ROWS, max(ROWS, filled // len(COLUMNS) + 2))
        self.fields.update(station_fields(self.rows))
        self.design = design

    def clean(self) -> dict[str, Any]:
        """Ask for what is left out of a station that was begun."""
        given = super().clean() or self.cleaned_data
        _, missing = filled_rows(given, self.rows)
        for name in missing:
            if not self.has_error(name):
                self.add_error(name, "Fill in the whole row.")
        return given

    def answers(self) -> dict[str, Any]:
        """Give the revision's fields, its stations as a list of rows."""
        given = super().answers()
        stations, _ = filled_rows(given, self.rows)
        plain = {k: v for k, v in given.items() if not k.startswith("stations-")}
        plain["species"] = list(plain["species"])
        return {**plain, "stations": stations}

    def sections(self) -> list[tuple[str, list[BoundField]]]:
        """Give the fields under their headings."""
        return [(title, [self[n] for n in names]) for title, names in SECTIONS]

    def station_table(self) -> list[tuple[int, list[BoundField]]]:
        """Give the station table as rows of fields."""
        return [
            (row + 1, [self[name_of(row, column)] for column, _ in COLUMNS])
            for row in range(self.rows)
        ]

    @property
    def station_heads(self) -> list[str]:
        """The heads of the station table's columns."""
        return [words for _, words in COLUMNS]


def _initial(before: Revision | None, stations: list[Station]) -> dict[str, Any]:
    if before is None:
        return {"torque_dry": True}
    every = [name for _, fields in SECTIONS for name in fields]
    names = [name for name in every if name not in ASKED_ANEW]
    values = {name: getattr(before, name) for name in names}
    for name in LENGTHS:
        if values[name] is not None:
            values[name] = f"{values[name].normalize():f}"
    species = [material.pk for material in before.species.all()]
    return {**values, "species": species, **initial_rows(stations)}


def _field(name: str) -> forms.Field:
    column: Any = Revision._meta.get_field(name)
    label = str(column.verbose_name).partition(" [")[0].capitalize()
    if name == "species":
        return forms.ModelMultipleChoiceField(
            label=label,
            queryset=Material.objects.in_use().filter(kind=Material.Kind.TIMBER),
            widget=forms.CheckboxSelectMultiple,
        )
    if name == "torque_dry":
        return forms.BooleanField(label=label, required=False)
    if name in FIGURES:
        return _figure(name, label, needed=not column.blank)
    return _words(column, label)


def _figure(name: str, label: str, *, needed: bool) -> forms.Field:
    if name in LENGTHS:
        return LengthField(label=label, required=needed)
    if name in COUNTS:
        return CountField(label=label, min_value=COUNTS[name])
    return NumberField(label=label, unit=NUMBERS[name], min_value=0)


def _words(column: Any, label: str) -> forms.Field:
    if column.choices:
        # A radio without a first choice: nothing is preset.
        return forms.ChoiceField(
            label=label, choices=column.choices, widget=forms.RadioSelect
        )
    return forms.CharField(
        label=label,
        max_length=column.max_length,
        required=not column.blank,
        widget=None if column.max_length else forms.Textarea(attrs=AREA),
        help_text=column.help_text,
        initial=column.default if column.has_default() else None,
    )
