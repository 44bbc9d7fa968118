"""Forms about suppliers, materials and lots."""

from typing import Any

from django import forms

from records.models import Lot, Material, Supplier
from records.web.shared.fields import DayField, MomentField, PhotoField, today
from records.web.shared.forms import ShopForm

HARDWOOD = (("", "not a timber, or not known"), ("yes", "hardwood"), ("no", "softwood"))
DECISION = (("yes", "Accept the lot"), ("no", "Refuse the lot"))


class MaterialChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A choice of materials, each with its kind."""

    def label_from_instance(self, obj: Any) -> str:
        """Name the material and say what kind it is."""
        return f"{obj.name} ({obj.get_kind_display().lower()})"


class ContactForm(ShopForm):
    """What may change about a supplier."""

    address = forms.CharField(
        label="Address", required=False, widget=forms.Textarea(attrs={"rows": 3})
    )
    contact = forms.CharField(
        label="Telephone or e-mail", max_length=120, required=False
    )
    note = forms.CharField(
        label="Note", required=False, widget=forms.Textarea(attrs={"rows": 2})
    )


class SupplierForm(ContactForm):
    """Somebody the shop buys from."""

    name = forms.CharField(label="Name", max_length=80)
    field_order = ("name",)


class SupplierChangeForm(ContactForm):
    """A supplier's contact, and whether the shop still buys there."""

    in_use = forms.BooleanField(label="The shop still buys here", required=False)


class MaterialForm(ShopForm):
    """A species or a product."""

    kind = forms.ChoiceField(label="Kind", choices=Material.Kind)
    name = forms.CharField(
        label="Name", max_length=80, help_text="Species, or the product's name."
    )
    family = forms.CharField(
        label="Family",
        max_length=60,
        required=False,
        help_text="Glue: resorcinol, urea, epoxy. Timber: the species as a handbook "
        "names it.",
    )
    hardwood = forms.TypedChoiceField(
        label="Hardwood or softwood",
        choices=HARDWOOD,
        required=False,
        coerce=lambda answer: answer == "yes",
        empty_value=None,
    )


class LotForm(ShopForm):
    """A delivery."""

    material = MaterialChoice(
        label="Material",
        queryset=Material.objects.in_use().order_by("kind", "name"),
        empty_label="choose",
    )
    supplier_lot = forms.CharField(
        label="Lot number on it",
        max_length=60,
        required=False,
        help_text="Leave empty if there is none: it is written down as unknown.",
    )
    received_on = DayField(label="Received on", initial=today)
    expires_on = DayField(
        label="Usable until", required=False, help_text="Last day, from the container."
    )
    supplier = forms.ModelChoiceField(
        label="Supplier",
        queryset=Supplier.objects.in_use(),
        required=False,
        empty_label="not known",
    )
    quantity = forms.CharField(
        label="How much",
        max_length=60,
        required=False,
        help_text="Such as 14 boards, or 5 kg.",
    )
    storage = forms.CharField(label="Where it is kept", max_length=80, required=False)
    document = forms.ChoiceField(
        label="Document that came with it",
        choices=Lot.Document,
        initial=Lot.Document.NONE,
        help_text="Kinds of EN 10204. 3.1 has test results of this very lot.",
    )
    document_reference = forms.CharField(
        label="Number of the document", max_length=80, required=False
    )


class CheckForm(ShopForm):
    """A receiving check."""

    found = forms.CharField(
        label="What you looked at, and found",
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    accepted = forms.TypedChoiceField(
        label="Decision",
        choices=DECISION,
        widget=forms.RadioSelect,
        coerce=lambda answer: answer == "yes",
    )
    photo = PhotoField(label="Photo", required=False)
    happened_at = MomentField(label="Checked at")


class OpenForm(ShopForm):
    """The day a container was opened."""

    opened_on = DayField(label="Opened on", initial=today)


class CloseForm(ShopForm):
    """The end of a lot."""

    state = forms.ChoiceField(
        label="The lot is",
        choices=[
            (Lot.State.USED_UP.value, Lot.State.USED_UP.label),
            (Lot.State.RETURNED.value, Lot.State.RETURNED.label),
        ],
        widget=forms.RadioSelect,
    )


class UseForm(ShopForm):
    """Whether the shop works with a material."""

    in_use = forms.BooleanField(label="The shop works with it", required=False)
