"""What comes through the door: suppliers, materials, glue sheets, lots."""

from typing import ClassVar

from django.db import models

from records.models.base import Correctable, CorrectableRecord, Thing


class SupplierQuerySet(models.QuerySet["Supplier"]):
    """Suppliers."""

    def in_use(self) -> "SupplierQuerySet":
        """Keep those the shop still buys from."""
        return self.filter(in_use=True)


class Supplier(Correctable, Thing):
    """Somebody the shop buys from."""

    typed_fields: ClassVar[tuple[str, ...]] = ("name",)

    state_fields: ClassVar[tuple[str, ...]] = ("address", "contact", "note", "in_use")

    name = models.CharField(
        max_length=80,
        unique=True,
        error_messages={"unique": "This supplier is in the book already."},
    )
    address = models.TextField(blank=True)
    contact = models.CharField("telephone or e-mail", max_length=120, blank=True)
    note = models.TextField(blank=True)
    in_use = models.BooleanField("still bought from", default=True)

    objects = SupplierQuerySet.as_manager()

    class Meta:
        ordering = ["name", "pk"]

    def __str__(self) -> str:
        return self.name


class MaterialQuerySet(models.QuerySet["Material"]):
    """Materials."""

    def in_use(self) -> "MaterialQuerySet":
        """Keep those the shop still works with."""
        return self.filter(in_use=True)


class Material(Correctable, Thing):
    """A kind of timber, adhesive, hardener, finish, edge or fastener."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "name",
        "family",
        "hardwood",
    )

    class Kind(models.TextChoices):
        TIMBER = "timber", "Timber"
        ADHESIVE = "adhesive", "Adhesive"
        HARDENER = "hardener", "Hardener"
        FINISH = "finish", "Finish"
        EDGE = "edge", "Edge or tip protection"
        FASTENER = "fastener", "Fastener"
        OTHER = "other", "Other"

    state_fields: ClassVar[tuple[str, ...]] = ("in_use",)

    kind = models.CharField(max_length=10, choices=Kind)
    name = models.CharField(
        max_length=80,
        unique=True,
        help_text="Species, or the product's name.",
        error_messages={"unique": "This material is in the book already."},
    )
    family = models.CharField(
        max_length=60,
        blank=True,
        help_text="For glue: resorcinol, urea, epoxy… For timber: the species in a "
        "handbook's words.",
    )
    hardwood = models.BooleanField(null=True, blank=True)
    in_use = models.BooleanField("still worked with", default=True)

    objects = MaterialQuerySet.as_manager()

    class Meta:
        ordering = ["kind", "name", "pk"]

    def __str__(self) -> str:
        return self.name


class LotQuerySet(models.QuerySet["Lot"]):
    """Lots."""

    def with_related(self) -> "LotQuerySet":
        """Bring material, supplier and writer in the same query."""
        return self.select_related("material", "supplier", "written_by")


class Lot(Correctable, Thing):
    """A delivery of one material under one number."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "material",
        "supplier",
        "supplier_lot",
        "received_on",
        "expires_on",
        "opened_on",
        "quantity",
        "storage",
        "document",
        "document_reference",
    )

    class State(models.TextChoices):
        WAITING = "waiting", "waiting for its receiving check"
        ACCEPTED = "accepted", "accepted"
        REFUSED = "refused", "refused"
        RETURNED = "returned", "returned to the supplier"
        USED_UP = "used_up", "used up"

    class Document(models.TextChoices):
        """Kinds of inspection document by EN 10204."""

        NONE = "none", "none"
        T21 = "2.1", "2.1 declaration of compliance"
        T22 = "2.2", "2.2 test report"
        T31 = "3.1", "3.1 inspection certificate"
        T32 = "3.2", "3.2 inspection certificate, witnessed"

    state_fields: ClassVar[tuple[str, ...]] = ("state", "opened_on")

    number = models.CharField(max_length=40, unique=True)
    material = models.ForeignKey(Material, models.PROTECT, related_name="lots")
    supplier = models.ForeignKey(
        Supplier, models.PROTECT, null=True, blank=True, related_name="lots"
    )
    supplier_lot = models.CharField(
        "lot number on the container",
        max_length=60,
        blank=True,
        help_text="Leave empty if it is not known: it is recorded as unknown.",
    )
    received_on = models.DateField()
    expires_on = models.DateField("usable until (last day)", null=True, blank=True)
    opened_on = models.DateField(null=True, blank=True)
    quantity = models.CharField(max_length=60, blank=True)
    storage = models.CharField("where it is kept", max_length=80, blank=True)
    document = models.CharField(
        "document by EN 10204", max_length=4, choices=Document, default=Document.NONE
    )
    document_reference = models.CharField(max_length=80, blank=True)
    state = models.CharField(max_length=10, choices=State, default=State.WAITING)

    objects = LotQuerySet.as_manager()

    class Meta:
        ordering = ["-received_on", "-pk"]

    def __str__(self) -> str:
        return self.number


class LotCheck(CorrectableRecord):
    """The receiving check of a lot: what was looked at, and the decision."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "happened_at",
        "found",
    )

    lot = models.ForeignKey(Lot, models.PROTECT, related_name="checks")
    happened_at = models.DateTimeField()
    accepted = models.BooleanField()
    found = models.TextField("what was looked at and found")

    class Meta(CorrectableRecord.Meta):
        ordering = ["lot", "happened_at", "pk"]

    def __str__(self) -> str:
        return "accepted" if self.accepted else "refused"
