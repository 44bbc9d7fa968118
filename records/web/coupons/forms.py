"""Forms about coupons and their tests."""

from typing import Any

from django import forms

from records.models import Mix
from records.queries.coupons import CouponLimits
from records.rules.coupons import SHOP_WOOD_FAILURE_PCT
from records.spelling.quantities import in_unit, pressure
from records.web.shared.fields import MomentField, NumberField, PhotoField
from records.web.shared.forms import ShopForm


class MixChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A choice of mixes, each with its glue."""

    def label_from_instance(self, obj: Any) -> str:
        """Name the mix and its glue."""
        return f"{obj.number} {obj.sheet.adhesive.name}"


class CouponForm(ShopForm):
    """A sample joint."""

    mix = MixChoice(
        label="Mix",
        queryset=Mix.objects.select_related("sheet__adhesive").order_by("-mixed_at"),
    )
    wood = forms.CharField(
        label="Wood of the offcuts",
        max_length=80,
        help_text="Of the same boards, surfaced at the same time.",
    )
    made_at = MomentField(label="Made at")
    twin_place = forms.CharField(
        label="Where its twin is kept",
        max_length=80,
        required=False,
        help_text="For a second test at a later age.",
    )


class TestForm(ShopForm):
    """A coupon broken, and what it showed."""

    wood_failure_pct = NumberField(
        label="Wood failure",
        unit="%",
        help_text="How much of the glue line is covered with torn wood, both faces.",
    )
    method = forms.CharField(
        label="How it was broken",
        max_length=80,
        help_text="Such as: chisel; block shear in the vice; testing machine.",
    )
    load_n = NumberField(label="Load at failure", unit="N", required=False)
    area_mm2 = NumberField(label="Glued area, as measured", unit="mm2", required=False)
    happened_at = MomentField(label="Broken at")
    note = forms.CharField(label="Note", max_length=200, required=False)
    photo = PhotoField(label="Photo of both faces", required=False)
    least_wood_failure_pct = NumberField(
        label="Least wood failure, the shop's rule",
        unit="%",
        required=False,
        initial=SHOP_WOOD_FAILURE_PCT,
        help_text="No route has a limit for this mix. 75 % is common practice; no "
        "published minimum was found.",
    )

    def __init__(self, *args: Any, limits: CouponLimits, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if limits.wood_failure_pct is not None:
            del self.fields["least_wood_failure_pct"]
            asked = f"At least {in_unit(limits.wood_failure_pct, '%')}."
            hint = self.fields["wood_failure_pct"].help_text
            self.fields["wood_failure_pct"].help_text = f"{asked} {hint}"
        if limits.strength_pa is not None:
            least = pressure(limits.strength_pa)
            self.fields["load_n"].help_text = f"Load over area: at least {least}."
