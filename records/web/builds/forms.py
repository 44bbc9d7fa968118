"""Forms about blanks and propellers."""

from collections.abc import Sequence
from typing import Any

from django import forms

from records.models import (
    Lamination,
    MaterialChange,
    Revision,
    RouteRevision,
    Stage,
    StageEvent,
)
from records.queries.routes.revisions import newest_in_use
from records.spelling.quantities import in_unit
from records.web.shared.choices import offer
from records.web.shared.fields import MomentField
from records.web.shared.forms import ShopForm

EMPTY = "nothing laid here"


class RevisionChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A choice of design revisions, by model."""

    def label_from_instance(self, obj: Any) -> str:
        """Name model, revision and drawing."""
        return f"{obj.design.model} {obj}, {obj.drawing}"


class RouteChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A choice of routes, in their newest revision."""

    def label_from_instance(self, obj: Any) -> str:
        """Name the route and its revision."""
        return f"{obj.route}, {obj}"


class LaminationChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A choice of laminations, each with its wood and mass."""

    def label_from_instance(self, obj: Any) -> str:
        """Name the lamination, its species and mass."""
        weighed = f"{in_unit(obj.mass_g, 'g')}" if obj.mass_g else "not weighed"
        return f"{obj.number}, {obj.board.lot.material.name}, {weighed}"


def revisions_in_use() -> Any:
    """List the revisions of designs that are made, the newest of each first."""
    revisions = Revision.objects.filter(design__in_use=True).select_related("design")
    return revisions.order_by("design__model", "-pk")


class PlanForm(ShopForm):
    """A new blank."""

    revision = RevisionChoice(label="Design", queryset=Revision.objects.none())
    route = RouteChoice(label="Route", queryset=RouteRevision.objects.none())

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        offer(self, revision=revisions_in_use())
        routes = [route.pk for route in newest_in_use()]
        revisions = RouteRevision.objects.filter(pk__in=routes).select_related("route")
        offer(self, route=revisions.order_by("route__name"))
        if len(routes) == 1:
            self.fields["route"].initial = routes[0]


class StackForm(ShopForm):
    """What lies in each place, from the bottom up."""

    def __init__(
        self,
        *args: Any,
        places: int,
        choices: Sequence[Lamination],
        laid: Sequence[Lamination],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.places = places
        self.by_key = {str(x.pk): x for x in choices}
        labels = LaminationChoice(queryset=Lamination.objects.none())
        options = [("", EMPTY)]
        options += [(str(x.pk), labels.label_from_instance(x)) for x in choices]
        lies = {x.position: x for x in laid}
        for place in range(1, places + 1):
            here = lies.get(place)
            name = f"Place {place}{_end(place, places)}"
            self.fields[f"place_{place}"] = forms.ChoiceField(
                label=name,
                choices=options,
                required=False,
                initial=str(here.pk) if here else "",
            )
            self.fields[f"turned_{place}"] = forms.BooleanField(
                label="turned end for end",
                required=False,
                initial=bool(here and here.turned),
            )

    def clean(self) -> dict[str, Any]:
        """Refuse an empty place under a laid one: nothing moves by itself."""
        answers = super().clean() or {}
        laid = [p for p in range(1, self.places + 1) if answers.get(f"place_{p}")]
        for place in range(1, max(laid, default=0)):
            if place not in laid:
                sentence = f"Nothing lies here, under place {max(laid)}. Fill it."
                self.add_error(f"place_{place}", sentence)
        return answers

    def order(self) -> list[tuple[Lamination, bool]]:
        """Give the stack from the bottom up."""
        places = range(1, self.places + 1)
        keys = [(self.cleaned_data[f"place_{p}"], p) for p in places]
        return [
            (self.by_key[key], self.cleaned_data[f"turned_{p}"])
            for key, p in keys
            if key
        ]


class PlaceForm(ShopForm):
    """What lies in one place."""

    lamination = LaminationChoice(
        label="Lamination", queryset=Lamination.objects.none()
    )
    turned = forms.BooleanField(label="turned end for end", required=False)

    def __init__(self, *args: Any, choices: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        offer(self, lamination=choices)


class ConfirmForm(ShopForm):
    """Nothing to enter: the button is the answer."""


class StartForm(ShopForm):
    """A new propeller."""

    revision = RevisionChoice(
        label="Design",
        queryset=Revision.objects.none(),
        help_text="As planned, unless it is finished as another.",
    )
    serial = forms.CharField(
        label="Serial",
        max_length=40,
        required=False,
        help_text="Empty: the next number. No serial is ever used twice.",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        offer(self, revision=revisions_in_use())


class DesignateForm(ShopForm):
    """What a propeller is now."""

    revision = RevisionChoice(label="It is now", queryset=Revision.objects.none())
    reason = forms.CharField(label="Why", max_length=200)
    happened_at = MomentField(label="Decided at")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        offer(self, revision=revisions_in_use())


class MaterialForm(ShopForm):
    """Wood removed, or material added, outside the plan."""

    what = forms.ChoiceField(
        label="What", choices=MaterialChange.What, widget=forms.RadioSelect
    )
    place = forms.CharField(
        label="Where", max_length=80, help_text="Such as: blade 2, back, tip third."
    )
    reason = forms.CharField(label="Why", max_length=200)
    happened_at = MomentField(label="Done at")


class NoteForm(ShopForm):
    """Something that began, ended or was seen at a stage."""

    stage = forms.ModelChoiceField(label="Stage", queryset=Stage.objects.none())
    kind = forms.ChoiceField(
        label="It", choices=StageEvent.Kind, widget=forms.RadioSelect
    )
    note = forms.CharField(label="Note", max_length=200, required=False)
    happened_at = MomentField(label="At")

    def __init__(self, *args: Any, stages: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        offer(self, stage=stages)


def _end(place: int, places: int) -> str:
    if place == 1:
        return ", the lowest"
    return ", the highest" if place == places else ""
