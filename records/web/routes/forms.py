"""Forms about routes, their stages, their readings and limits."""

from collections.abc import Iterable
from typing import Any

from django import forms

from records.models import Characteristic, Limit, Revision, Stage
from records.models.routes import READ_ON
from records.queries.routes.plans import CHARACTERISTIC_FIELDS, STAGE_FIELDS
from records.queries.subjects import WORDS
from records.spelling.units import unit_name
from records.web.shared.fields import CountField, NumberField
from records.web.shared.forms import ShopForm

AREA = {"rows": 2}


class RouteForm(ShopForm):
    """A route's name."""

    name = forms.CharField(label="Name", max_length=60)


class UseForm(ShopForm):
    """Nothing to enter: the button is the answer."""


class ReasonForm(ShopForm):
    """What every change of a route asks."""

    reason = forms.CharField(
        label="What changes, and why",
        max_length=200,
        help_text="A new revision of the route is issued. Builds begun stay on theirs.",
    )
    take_out = forms.BooleanField(
        label="Take it out of the route", required=False, initial=False
    )


class StageForm(ReasonForm):
    """One stage of a route."""

    place = CountField(label="Place in the route", min_value=1)
    code = forms.SlugField(
        label="Code",
        max_length=30,
        help_text="Small letters and hyphens. Readings and signatures of lots count "
        "wherever a stage has the same code.",
    )
    name = forms.CharField(label="Name", max_length=60)
    scope = forms.ChoiceField(label="Signed on a", choices=Stage.Scope)
    hold_point = forms.BooleanField(
        label="Hold point: nothing later goes on before it is signed", required=False
    )
    check_kind = forms.ChoiceField(label="Check needed", choices=Stage.CheckKind)
    goes_stale = forms.BooleanField(
        label="Readings go stale when material is removed or added", required=False
    )
    evidence = forms.ChoiceField(
        label="Rests on", choices=Stage.Evidence, required=False
    )
    guidance = forms.CharField(
        label="Guidance", required=False, widget=forms.Textarea(attrs=AREA)
    )
    caution = forms.CharField(
        label="Caution", required=False, widget=forms.Textarea(attrs=AREA)
    )

    def __init__(self, *args: Any, new: bool = False, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if new:
            del self.fields["take_out"]
        self.order_fields(["place", *STAGE_FIELDS, "take_out", "reason"])


class CharacteristicForm(ReasonForm):
    """Something that a stage asks for."""

    place = CountField(label="Place in the stage", min_value=1)
    code = forms.SlugField(
        label="Code", max_length=40, help_text="Small letters and hyphens."
    )
    name = forms.CharField(label="Name", max_length=80)
    purpose = forms.ChoiceField(
        label="Serves as",
        choices=Characteristic.Purpose,
        required=False,
        help_text="The field of the conformity record, or the rule, that uses it.",
    )
    on = forms.ChoiceField(label="Read on a")
    kind = forms.ChoiceField(label="Answered by", choices=Characteristic.Kind)
    unit = forms.CharField(
        label="Unit",
        max_length=12,
        required=False,
        help_text="As the book writes it: mm, in, deg, g, g.mm, degC, %, psi, N.m, d.",
    )
    per = forms.ChoiceField(label="Read", choices=Characteristic.Per)
    at_least = CountField(label="Readings needed, at least", min_value=1, initial=1)
    required = forms.BooleanField(
        label="Required before the signature", required=False, initial=True
    )
    gauge_needed = forms.BooleanField(label="A gauge is named", required=False)
    nominal = forms.ChoiceField(
        label="Limit", choices=Characteristic.Nominal, required=False
    )
    computed = forms.ChoiceField(
        label="What is judged", choices=Characteristic.Computed, required=False
    )
    compares = forms.SlugField(
        label="Compares the readings of",
        max_length=40,
        required=False,
        help_text="For a difference: the code of the readings in this stage.",
    )
    changes_material = forms.BooleanField(
        label="Doing this changes the material", required=False
    )
    plausible_low = NumberField(
        label="Less than this is a slip of the pen", required=False, keyboard="text"
    )
    plausible_high = NumberField(
        label="More than this is a slip of the pen", required=False, keyboard="text"
    )
    how = forms.CharField(label="How it is read", max_length=200, required=False)

    def __init__(
        self, *args: Any, scope: str, new: bool = False, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        if new:
            del self.fields["take_out"]
        on = self.fields["on"]
        if isinstance(on, forms.ChoiceField):
            on.choices = [(kind, WORDS[kind]) for kind in READ_ON[scope]]
        self.order_fields(["place", *CHARACTERISTIC_FIELDS, "take_out", "reason"])


class LimitForm(ShopForm):
    """A limit as its next revision."""

    low = NumberField(label="Least", required=False, keyboard="text")
    high = NumberField(label="Most", required=False, keyboard="text")
    unit = forms.ChoiceField(label="Unit")
    source_kind = forms.ChoiceField(
        label="Comes from", choices=Limit.Source, widget=forms.RadioSelect
    )
    source = forms.CharField(
        label="Where exactly",
        max_length=200,
        help_text="Text, edition and place; or what the shop's practice rests on.",
    )
    reason = forms.CharField(label="Why it is set", max_length=200)

    def __init__(
        self,
        *args: Any,
        units: list[str],
        designs: Iterable[Revision],
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        field = self.fields["unit"]
        if isinstance(field, forms.ChoiceField):
            field.choices = [(unit, unit_name(unit) or "1") for unit in units]
        by_key = {str(r.pk): r for r in designs}
        words = [(key, f"{r.design}, {r}") for key, r in by_key.items()]
        self.fields["design_revision"] = forms.TypedChoiceField(
            label="Only for",
            choices=[("", "every design"), *words],
            required=False,
            coerce=by_key.get,
            empty_value=None,
        )
