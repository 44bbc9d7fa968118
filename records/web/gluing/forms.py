"""Forms of the glue-up: a mix, a joint closed now, a joint with its times."""

from typing import Any

from django import forms

from records.models import GlueSheet, JointSpread, Lot, Material, Mix
from records.queries.gluing.mixes import glue_lots, sheets_in_force
from records.spelling.moments import clock, day
from records.web.shared.choices import offer
from records.web.shared.fields import CountField, MomentField, NumberField
from records.web.shared.forms import ShopForm


class SheetChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A choice of glue sheets, by the glue they are for."""

    def label_from_instance(self, obj: Any) -> str:
        """Name the glue and the sheet."""
        return f"{obj.adhesive.name}, sheet {obj.revision}"


class LotChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A choice of containers, each with what it is and its last day."""

    def label_from_instance(self, obj: Any) -> str:
        """Name the lot, the material and the last day."""
        last = f"until {day(obj.expires_on)}" if obj.expires_on else "last day unknown"
        return f"{obj.number} {obj.material.name}, {last}"


class MixChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A choice of mixes, each with when it was made."""

    def label_from_instance(self, obj: Any) -> str:
        """Name the mix, its glue and its time."""
        return f"{obj.number} {obj.sheet.adhesive.name}, mixed {clock(obj.mixed_at)}"


class MixForm(ShopForm):
    """What was weighed, and when the clock started."""

    sheet = SheetChoice(label="Glue", queryset=GlueSheet.objects.none())
    resin_lot = LotChoice(label="Container of resin", queryset=Lot.objects.none())
    resin_g = NumberField(label="Resin", unit="g")
    hardener_lot = LotChoice(
        label="Container of hardener",
        queryset=Lot.objects.none(),
        required=False,
        help_text="Leave empty where water is added.",
    )
    hardener_g = NumberField(label="Hardener or water", unit="g")
    mixed_at = MomentField(label="Mixed at", help_text="The clock starts here.")
    temperature_c = NumberField(label="Glue and room", unit="degC", keyboard="text")
    humidity_pct = NumberField(label="Relative humidity", unit="%", required=False)
    stirred_min = NumberField(label="Stirred", unit="min", required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        offer(
            self,
            sheet=sheets_in_force(),
            resin_lot=glue_lots(Material.Kind.ADHESIVE),
            hardener_lot=glue_lots(Material.Kind.HARDENER),
        )


class ClosedNowForm(ShopForm):
    """A joint closed now: the button is the answer, its times stand in the page."""

    this_joint = forms.IntegerField(widget=forms.HiddenInput)
    with_mix = forms.ModelChoiceField(
        widget=forms.HiddenInput, queryset=Mix.objects.select_related("sheet")
    )
    since = forms.DateTimeField(widget=forms.HiddenInput)


class JointForm(ShopForm):
    """A joint with its mix and times."""

    joint = CountField(label="Joint", help_text="Joint 1 is the lowest.")
    mix = MixChoice(label="Mix", queryset=Mix.objects.none())
    side = forms.ChoiceField(
        label="Glue of this mix on",
        choices=JointSpread.Side,
        help_text="A second mix in the same joint is a second line.",
    )
    spread_at = MomentField(label="First glue on")
    closed_at = MomentField(label="Joint closed")
    spread_g = NumberField(
        label="Glue on this joint",
        unit="g",
        required=False,
        help_text="Weigh the pot before and after.",
    )

    def __init__(self, *args: Any, mixes: list[Mix], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        keys = [mix.pk for mix in mixes]
        offer(self, mix=Mix.objects.with_related().filter(pk__in=keys))


class CorrectJointForm(JointForm):
    """A joint written anew, with the reason."""

    reason = forms.CharField(label="Why it is corrected", max_length=200)
