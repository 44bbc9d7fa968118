"""Forms about boards and laminations."""

from typing import Any

from django import forms

from records.models import BoardCheck, BoardDefect, Lot
from records.web.shared.fields import (
    CountField,
    MomentField,
    NumberField,
    PhotoField,
)
from records.web.shared.forms import ShopForm

USUAL_ROWS, MOST_ROWS = 4, 12
DECISION = (("yes", "Accept the board"), ("no", "Refuse the board"))
STAYS = (("no", "stays in the wood"), ("yes", "can be cut round"))
NO_DEFECT = ("", "no defect")


class LotChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A choice of timber lots, each with its species."""

    def label_from_instance(self, obj: Any) -> str:
        """Name the lot and its species."""
        return f"{obj.number}, {obj.material.name}"


class BoardsForm(ShopForm):
    """One board, or several of one size."""

    lot = LotChoice(
        label="Lot",
        queryset=Lot.objects.with_related()
        .filter(material__kind="timber", state__in=["waiting", "accepted"])
        .order_by("-received_on", "-pk"),
        empty_label="choose",
    )
    count = CountField(
        label="How many boards",
        initial=1,
        help_text="Several at once only where they have one size.",
    )
    length_mm = NumberField(label="Length", unit="mm", required=False)
    width_mm = NumberField(label="Width", unit="mm", required=False)
    thickness_mm = NumberField(label="Thickness", unit="mm", required=False)
    grade = forms.CharField(label="Grade", max_length=40, required=False)


class DefectWidget(forms.MultiWidget):
    """Kind, place, and whether it can be cut round, one below the other."""

    use_fieldset = True

    def __init__(self, row: int) -> None:
        kinds = [NO_DEFECT, *BoardDefect.Kind.choices]
        place = {"placeholder": "where, such as 300 mm from the root"}
        super().__init__(
            widgets={
                "kind": forms.Select({"aria-label": f"Defect {row}"}, kinds),
                "place": forms.TextInput({"aria-label": f"Place of {row}", **place}),
                "cut": forms.Select({"aria-label": f"Defect {row} stays?"}, STAYS),
            }
        )

    def decompress(self, value: Any) -> list[Any]:
        """Begin without a defect: a row is never filled in beforehand."""
        return ["", "", "no"]


class DefectField(forms.MultiValueField):
    """One defect as (kind, place, can be cut round); None where there is none."""

    def __init__(self, row: int) -> None:
        fields = (
            forms.ChoiceField(choices=[NO_DEFECT, *BoardDefect.Kind.choices]),
            forms.CharField(max_length=80),
            forms.ChoiceField(choices=STAYS),
        )
        for field in fields:
            field.required = False
        super().__init__(
            fields,
            label=f"Defect {row}",
            required=False,
            require_all_fields=False,
            widget=DefectWidget(row),
        )

    def compress(self, data_list: Any) -> Any:
        """Give the defect; a place without a defect is asked about."""
        kind, place, cut = data_list or ("", "", "")
        if place and not kind:
            raise forms.ValidationError("Name the defect that is there.")
        return (kind, place, cut == "yes") if kind else None


class InspectForm(ShopForm):
    """The inspection of a board."""

    rings = forms.ChoiceField(
        label="Ring orientation",
        choices=BoardCheck.Rings,
        widget=forms.RadioSelect,
        help_text="Look at the end grain.",
    )
    accepted = forms.TypedChoiceField(
        label="Decision",
        choices=DECISION,
        widget=forms.RadioSelect,
        coerce=lambda answer: answer == "yes",
    )
    note = forms.CharField(
        label="Note", required=False, widget=forms.Textarea(attrs={"rows": 2})
    )
    photo = PhotoField(label="Photo", required=False)
    happened_at = MomentField(label="Inspected at")

    def __init__(self, *args: Any, rows: int = USUAL_ROWS, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.rows = [f"defect_{n}" for n in range(1, rows + 1)]
        for n, name in enumerate(self.rows, 1):
            self.fields[name] = DefectField(n)
        self.order_fields(["rings", *self.rows])

    def answers(self) -> dict[str, Any]:
        """Give the inspection, its defects as a list."""
        given = super().answers()
        rows = [given.pop(name) for name in self.rows]
        return {**given, "defects": [defect for defect in rows if defect]}


class LaminationForm(ShopForm):
    """A piece sawn from a board."""

    end_mark = forms.CharField(
        label="Mark on the root end",
        max_length=20,
        required=False,
        help_text="So that an end-for-end turn can be seen.",
    )
    mass_g = NumberField(label="Mass", unit="g", required=False)
    balance_point_mm = NumberField(
        label="Balance point from the middle",
        unit="mm",
        required=False,
        keyboard="text",
        help_text="Towards the marked end is more than 0, away from it less.",
    )
    place = forms.CharField(
        label="Place in the board",
        max_length=40,
        required=False,
        help_text="Such as second from the bark side.",
    )


class VoidForm(ShopForm):
    """Why a number is void."""

    reason = forms.CharField(
        label="Why is the number void", max_length=200, help_text="The gap keeps it."
    )


class ConfirmForm(ShopForm):
    """Nothing to enter: the button is the answer."""
