"""Designs, and their frozen revisions with a table of stations."""

from typing import Any, ClassVar

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q

from records.models.base import Record, Thing
from records.models.lots import Material

POSITIVE = [MinValueValidator(0)]


def millimetres(
    verbose_name: str, *, empty: bool = False
) -> "models.DecimalField[Any, Any]":
    """Make a column for a length on a drawing, to a micrometre [mm]."""
    return models.DecimalField(
        verbose_name,
        max_digits=8,
        decimal_places=3,
        null=empty,
        blank=empty,
        validators=POSITIVE,
    )


class Design(Thing):
    """A propeller model, whatever its revision."""

    state_fields: ClassVar[tuple[str, ...]] = ("in_use",)

    model = models.CharField("model designation", max_length=60, unique=True)
    description = models.CharField(max_length=200, blank=True)
    in_use = models.BooleanField(default=True)

    class Meta:
        ordering = ["model", "pk"]

    def __str__(self) -> str:
        return self.model


class Revision(Record):
    """A released revision of a design, whole: a change is a new revision."""

    class Hand(models.TextChoices):
        RIGHT = "right", "right-hand (clockwise, seen from behind)"
        LEFT = "left", "left-hand (anticlockwise, seen from behind)"

    class Mounting(models.TextChoices):
        TRACTOR = "tractor", "tractor"
        PUSHER = "pusher", "pusher"

    class Basis(models.TextChoices):
        CERTIFICATED = "certificated", "certificated"
        LIGHT_SPORT = "light_sport", "standard for light-sport propellers"
        EXPERIMENTAL = "experimental", "experimental or amateur-built, no approval"

    design = models.ForeignKey(Design, models.PROTECT, related_name="revisions")
    number = models.CharField("revision", max_length=12)
    drawing = models.CharField("drawing or pattern", max_length=80)
    reason = models.CharField("what changed, and why", max_length=200)
    design_authority = models.CharField(
        max_length=80,
        help_text="Who answers for the design: use as is and repair are theirs.",
    )
    basis = models.CharField("certification basis", max_length=14, choices=Basis)
    basis_reference = models.CharField(
        "type certificate, or standard with edition", max_length=120, blank=True
    )
    blades = models.PositiveSmallIntegerField(
        validators=[MinValueValidator(2)], default=2
    )
    hand = models.CharField("rotation", max_length=6, choices=Hand)
    mounting = models.CharField(max_length=8, choices=Mounting)
    diameter_mm = millimetres("diameter [mm]")
    pitch_mm = millimetres("pitch [mm]")
    reference_station_mm = millimetres("reference station, radius [mm]")
    laminations = models.PositiveSmallIntegerField(validators=[MinValueValidator(2)])
    lamination_mm = millimetres("lamination thickness [mm]")
    blank_length_mm = millimetres("blank length [mm]")
    blank_width_mm = millimetres("blank width at the hub [mm]")
    species = models.ManyToManyField(
        Material, verbose_name="species allowed", through="AllowedSpecies"
    )
    hub_thickness_mm = millimetres("hub thickness [mm]")
    hub_diameter_mm = millimetres("hub diameter [mm]", empty=True)
    bore_mm = millimetres("centre bore [mm]")
    bolt_circle_mm = millimetres("bolt circle diameter [mm]")
    bolt_holes = models.PositiveSmallIntegerField()
    bolt_hole_mm = millimetres("bolt hole diameter [mm]")
    counterbore = models.CharField("counterbores", max_length=80, blank=True)
    max_rpm = models.PositiveIntegerField("greatest speed [rpm]")
    max_power_kw = models.DecimalField(
        "greatest power [kW]", max_digits=6, decimal_places=1, validators=POSITIVE
    )
    suited_to = models.CharField(
        "engines and aircraft",
        max_length=200,
        default="Suitability is the installer's decision.",
    )
    bolt = models.CharField("bolt size", max_length=60)
    torque_low_nm = models.DecimalField(
        "bolt torque, least [N·m]", max_digits=6, decimal_places=1, validators=POSITIVE
    )
    torque_high_nm = models.DecimalField(
        "bolt torque, most [N·m]", max_digits=6, decimal_places=1, validators=POSITIVE
    )
    torque_dry = models.BooleanField("threads dry", default=True)
    torque_sequence = models.CharField(max_length=200)
    retorque = models.TextField("when to check the torque again")
    face_plate_mm = millimetres("face plate, least diameter [mm]")
    edge_protection = models.CharField(max_length=120, blank=True)
    finish_system = models.CharField(max_length=120, blank=True)
    care = models.TextField("care and storage")
    damage_limits = models.TextField("damage limits, and when to take out of service")

    class Meta:
        ordering = ["design", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["design", "number"],
                name="design_revision_once",
                violation_error_message="This design already has that revision.",
            ),
            models.CheckConstraint(
                condition=Q(torque_low_nm__lte=models.F("torque_high_nm")),
                name="torque_range_in_order",
                violation_error_message="The least torque is more than the most.",
            ),
        ]

    def __str__(self) -> str:
        return f"revision {self.number}"


class AllowedSpecies(Record):
    """A species that a revision allows."""

    revision = models.ForeignKey(Revision, models.PROTECT, related_name="allowed")
    material = models.ForeignKey(Material, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["revision", "pk"]
        verbose_name_plural = "allowed species"
        constraints = [
            models.UniqueConstraint(
                fields=["revision", "material"], name="species_allowed_once"
            )
        ]

    def __str__(self) -> str:
        return "allowed species"


class Station(Record):
    """One row of the station table: what a blade should be at a radius."""

    revision = models.ForeignKey(Revision, models.PROTECT, related_name="stations")
    radius_mm = millimetres("radius [mm]")
    angle_deg = models.DecimalField("blade angle [°]", max_digits=6, decimal_places=3)
    angle_tolerance_deg = models.DecimalField(
        "± angle [°]", max_digits=5, decimal_places=3, validators=POSITIVE
    )
    chord_mm = millimetres("chord [mm]")
    chord_tolerance_mm = millimetres("± chord [mm]")
    thickness_mm = millimetres("thickness [mm]")
    thickness_tolerance_mm = millimetres("± thickness [mm]")
    blank_width_mm = millimetres("width of the blank here [mm]")

    class Meta:
        ordering = ["revision", "radius_mm", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["revision", "radius_mm"],
                name="one_station_at_a_radius",
                violation_error_message="Two stations have the same radius.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.radius_mm.normalize():f} mm"
