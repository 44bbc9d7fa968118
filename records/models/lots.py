"""What comes through the door: suppliers, materials, glue sheets, lots."""

from typing import ClassVar

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q

from records.models.base import Record, Thing

NOT_NEGATIVE = [MinValueValidator(0, "This can't be less than 0.")]


class SupplierQuerySet(models.QuerySet["Supplier"]):
    """Suppliers."""

    def in_use(self) -> "SupplierQuerySet":
        """Keep those the shop still buys from."""
        return self.filter(in_use=True)


class Supplier(Thing):
    """Somebody the shop buys from."""

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


class Material(Thing):
    """A kind of timber, adhesive, hardener, finish, edge or fastener."""

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


class GlueSheetQuerySet(models.QuerySet["GlueSheet"]):
    """Glue sheets."""

    def with_related(self) -> "GlueSheetQuerySet":
        """Bring adhesive, hardener and writer in the same query."""
        return self.select_related("adhesive", "hardener", "written_by")


class GlueSheet(Record):
    """The maker's table for one glue, one revision, as the shop copied it."""

    adhesive = models.ForeignKey(
        Material,
        models.PROTECT,
        related_name="glue_sheets",
        limit_choices_to={"kind": "adhesive"},
    )
    hardener = models.ForeignKey(
        Material,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
        limit_choices_to={"kind": "hardener"},
    )
    revision = models.PositiveSmallIntegerField()
    source = models.CharField("maker's document, edition and page", max_length=200)
    parts_low = models.DecimalField(
        "hardener to 100 parts of resin by mass, least",
        max_digits=8,
        decimal_places=3,
        validators=NOT_NEGATIVE,
    )
    parts_high = models.DecimalField(
        "hardener to 100 parts of resin by mass, most",
        max_digits=8,
        decimal_places=3,
        validators=NOT_NEGATIVE,
    )
    spread_low_gm2 = models.DecimalField(
        "spread a glue line, least [g/m2]",
        max_digits=7,
        decimal_places=1,
        validators=NOT_NEGATIVE,
    )
    spread_high_gm2 = models.DecimalField(
        "spread a glue line, most [g/m2]",
        max_digits=7,
        decimal_places=1,
        validators=NOT_NEGATIVE,
    )
    pressure_low_pa = models.DecimalField(
        "pressure at the glue line, least [Pa]",
        max_digits=10,
        decimal_places=0,
        validators=NOT_NEGATIVE,
    )
    pressure_high_pa = models.DecimalField(
        "pressure at the glue line, most [Pa]",
        max_digits=10,
        decimal_places=0,
        validators=NOT_NEGATIVE,
    )
    shelf_life_days = models.PositiveIntegerField(
        "shelf life, unopened [days]", null=True, blank=True
    )

    objects = GlueSheetQuerySet.as_manager()

    class Meta:
        ordering = ["adhesive", "-revision", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["adhesive", "revision"], name="glue_sheet_revision_once"
            ),
            models.CheckConstraint(
                condition=Q(parts_low__lte=models.F("parts_high"))
                & Q(spread_low_gm2__lte=models.F("spread_high_gm2"))
                & Q(pressure_low_pa__lte=models.F("pressure_high_pa")),
                name="glue_sheet_ranges_in_order",
                violation_error_message="The least is more than the most.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.source}, sheet {self.revision}"


class GlueSheetPoint(Record):
    """One cell of the maker's table: a time at a temperature."""

    class Quantity(models.TextChoices):
        WORKING_LIFE = "working_life", "working life"
        OPEN_MOST = "open_most", "longest open assembly time"
        CLOSED_LEAST = "closed_least", "shortest closed assembly time"
        CLOSED_MOST = "closed_most", "longest closed assembly time"
        PRESS_TIME = "press_time", "least time under pressure"

    sheet = models.ForeignKey(GlueSheet, models.PROTECT, related_name="points")
    quantity = models.CharField(max_length=14, choices=Quantity)
    temperature_c = models.DecimalField(max_digits=5, decimal_places=1)
    minutes = models.DecimalField(max_digits=8, decimal_places=1)

    class Meta:
        ordering = ["sheet", "quantity", "temperature_c", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["sheet", "quantity", "temperature_c"],
                name="one_time_at_a_temperature",
                violation_error_message="A table gives one time at a temperature.",
            ),
            models.CheckConstraint(
                condition=Q(minutes__gte=0),
                name="glue_time_not_negative",
                violation_error_message="A time can't be less than 0 minutes.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_quantity_display()} at {self.temperature_c} °C"


class LotQuerySet(models.QuerySet["Lot"]):
    """Lots."""

    def with_related(self) -> "LotQuerySet":
        """Bring material, supplier and writer in the same query."""
        return self.select_related("material", "supplier", "written_by")


class Lot(Thing):
    """A delivery of one material under one number."""

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


class LotCheck(Record):
    """The receiving check of a lot: what was looked at, and the decision."""

    lot = models.ForeignKey(Lot, models.PROTECT, related_name="checks")
    happened_at = models.DateTimeField()
    accepted = models.BooleanField()
    found = models.TextField("what was looked at and found")

    class Meta:
        ordering = ["lot", "happened_at", "pk"]

    def __str__(self) -> str:
        return "accepted" if self.accepted else "refused"
