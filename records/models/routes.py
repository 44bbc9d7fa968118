"""Routes: the planned stages of a build, and what each asks for."""

from typing import ClassVar

from django.db import models
from django.db.models import Q

from records.models.base import Record, Thing
from records.models.subjects import MATERIAL_KINDS

RANGES = ("range_of_blades", "range_of_points")
# On what a stage of each scope may ask for a reading.
READ_ON = {
    "lot": ("lot",),
    "board": ("board",),
    "blank": ("blank", "lamination", "mix", "load", "coupon"),
    "propeller": ("propeller",),
}


class Route(Thing):
    """A way of building, whatever its revision."""

    state_fields: ClassVar[tuple[str, ...]] = ("in_use",)

    name = models.CharField(max_length=60, unique=True)
    in_use = models.BooleanField(default=True)

    class Meta:
        ordering = ["name", "pk"]

    def __str__(self) -> str:
        return self.name


class RouteRevision(Record):
    """A revision of a route, whole: a change of stages is a new revision."""

    route = models.ForeignKey(Route, models.PROTECT, related_name="revisions")
    number = models.PositiveSmallIntegerField()
    reason = models.CharField("what changed, and why", max_length=200)

    class Meta:
        ordering = ["route", "-number", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["route", "number"], name="route_revision_once"
            )
        ]

    def __str__(self) -> str:
        return f"revision {self.number}"


class StageQuerySet(models.QuerySet["Stage"]):
    """Stages of routes."""

    def of(self, revision_id: int) -> "StageQuerySet":
        """Keep the stages of one route revision, in order."""
        return self.filter(revision_id=revision_id).order_by("order", "pk")


class Stage(Record):
    """One step of a route, signed off once for each of its subjects."""

    class Scope(models.TextChoices):
        """What is signed: one lot, one board, one blank or one propeller."""

        LOT = "lot", "timber lot"
        BOARD = "board", "board"
        BLANK = "blank", "blank"
        PROPELLER = "propeller", "propeller"

    class CheckKind(models.TextChoices):
        SELF = "self", "self-check"
        LATER = "later", "same person after the shop's delay"
        INDEPENDENT = "independent", "independent person"

    class Evidence(models.TextChoices):
        """What a signature rests on besides the readings of its stage."""

        NONE = "", "its readings only"
        LOT_CHECK = "lot_check", "the lot is accepted"
        BOARD_CHECK = "board_check", "the board is accepted"
        STACK = "stack", "every lamination is laid"
        JOINTS = "joints", "every joint is glued and closed"
        PRESS = "press", "the press was opened"
        COUPON = "coupon", "a coupon of every mix has passed"

    revision = models.ForeignKey(RouteRevision, models.PROTECT, related_name="stages")
    order = models.PositiveSmallIntegerField()
    code = models.SlugField(max_length=30)
    name = models.CharField(max_length=60)
    scope = models.CharField(max_length=10, choices=Scope)
    hold_point = models.BooleanField(
        default=False,
        help_text="Nothing of a later stage may be logged before this is signed.",
    )
    check_kind = models.CharField(
        "check needed", max_length=12, choices=CheckKind, default=CheckKind.SELF
    )
    goes_stale = models.BooleanField(
        "readings go stale when material is removed or added", default=False
    )
    evidence = models.CharField(
        "rests also on",
        max_length=12,
        choices=Evidence,
        default=Evidence.NONE,
        blank=True,
    )
    guidance = models.TextField(blank=True)
    caution = models.TextField(blank=True)

    objects = StageQuerySet.as_manager()

    class Meta:
        ordering = ["revision", "order", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["revision", "code"],
                name="stage_code_once_in_a_route",
                violation_error_message="Two stages of this route have the same code.",
            ),
            models.UniqueConstraint(
                fields=["revision", "order"],
                name="stage_order_once_in_a_route",
                violation_error_message="Two stages of this route have the same place.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def glue_is_wet(self) -> bool:
        """Tell whether this is a stage that nothing may stop once it has begun."""
        return self.evidence in {self.Evidence.JOINTS, self.Evidence.PRESS}


class Characteristic(Record):
    """Something a stage asks for: a quantity to measure, or a question to answer."""

    class Kind(models.TextChoices):
        MEASURED = "measured", "measured"
        YES_NO = "yes_no", "yes or no"
        NOTE = "note", "in words"

    class Per(models.TextChoices):
        ONCE = "once", "once"
        BLADE = "blade", "each blade"
        STATION = "station", "each station of each blade"
        JOINT = "joint", "each joint"

    class Nominal(models.TextChoices):
        """Where the drawing, rather than the route, gives the limit."""

        NONE = "", "the route's limit"
        ANGLE = "angle", "station's blade angle"
        CHORD = "chord", "station's chord"
        THICKNESS = "thickness", "station's thickness"

    class Computed(models.TextChoices):
        """What is judged instead of the figure as read."""

        NONE = "", "the reading itself"
        GLUE_LINE_PRESSURE = "glue_line_pressure", "pressure at the glue line"
        RANGE_OF_BLADES = "range_of_blades", "difference between blades"
        RANGE_OF_POINTS = "range_of_points", "difference between points"

    class Purpose(models.TextChoices):
        """What a paper, a rule or a chart uses a reading for, whatever it is called."""

        NONE = "", "nothing else than its stage"
        MARKING = "marking", "what is marked on the propeller"
        MASS = "mass", "finished mass"
        LENGTH = "length", "length of a blade"
        LENGTH_DIFFERENCE = "length_difference", "difference of the blades' lengths"
        HUB_THICKNESS = "hub_thickness", "hub thickness, as bored"
        HUB_PARALLELISM = "hub_parallelism", "hub faces out of parallel"
        BORE = "bore", "centre bore"
        BOLT_HOLE = "bolt_hole", "bolt hole, the widest"
        BOLT_CIRCLE = "bolt_circle", "bolt circle off the bore"
        TIP = "tip", "tip against the pointer"
        TRACK = "track", "track"
        BALANCE_LEVEL = "balance_level", "balance with the blades level"
        BALANCE_UPRIGHT = "balance_upright", "balance with the blades upright"
        BALANCE_WEIGHT = "balance_weight", "balance weight or material fitted"
        MOISTURE = "moisture", "moisture at dispatch"
        HUB_AT_DISPATCH = "hub_at_dispatch", "hub thickness at dispatch"
        HUMIDITY = "humidity", "humidity of the room at the last look"
        TEMPERATURE = "temperature", "temperature of the room at the last look"
        WOOD_FAILURE = "wood_failure", "wood failure of a coupon"
        SHEAR_STRENGTH = "shear_strength", "shear strength of a coupon"

    stage = models.ForeignKey(Stage, models.PROTECT, related_name="characteristics")
    order = models.PositiveSmallIntegerField(default=0)
    code = models.SlugField(max_length=40)
    purpose = models.CharField(
        "serves as", max_length=20, choices=Purpose, default=Purpose.NONE, blank=True
    )
    name = models.CharField(max_length=80)
    on = models.CharField(
        "read on", max_length=10, choices=[(k, k) for k in MATERIAL_KINDS]
    )
    kind = models.CharField(max_length=8, choices=Kind, default=Kind.MEASURED)
    unit = models.CharField(max_length=12, blank=True)
    per = models.CharField(max_length=8, choices=Per, default=Per.ONCE)
    at_least = models.PositiveSmallIntegerField("readings needed, at least", default=1)
    required = models.BooleanField(default=True)
    gauge_needed = models.BooleanField(default=False)
    nominal = models.CharField(
        max_length=10, choices=Nominal, default=Nominal.NONE, blank=True
    )
    computed = models.CharField(
        max_length=20, choices=Computed, default=Computed.NONE, blank=True
    )
    compares = models.SlugField(
        "compares the readings of",
        max_length=40,
        blank=True,
        help_text="For a difference: the code of the readings in the same stage.",
    )
    changes_material = models.BooleanField(default=False)
    plausible_low = models.DecimalField(
        "less than this is a slip of the pen",
        max_digits=14,
        decimal_places=4,
        null=True,
        blank=True,
    )
    plausible_high = models.DecimalField(
        "more than this is a slip of the pen",
        max_digits=14,
        decimal_places=4,
        null=True,
        blank=True,
    )
    how = models.CharField("how it is read", max_length=200, blank=True)

    class Meta:
        ordering = ["stage", "order", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["stage", "code"],
                name="characteristic_code_once_in_a_stage",
                violation_error_message="Two readings of this stage share a code.",
            ),
            models.UniqueConstraint(
                fields=["stage", "purpose"],
                condition=~Q(purpose=""),
                name="purpose_once_in_a_stage",
                violation_error_message="Two readings of this stage serve as the same.",
            ),
            models.CheckConstraint(
                condition=~Q(kind="measured") | ~Q(unit=""),
                name="measured_characteristic_has_a_unit",
                violation_error_message="Say in which unit this is measured.",
            ),
            models.CheckConstraint(
                condition=Q(computed__in=RANGES, compares__gt="")
                | (~Q(computed__in=RANGES) & Q(compares="")),
                name="difference_names_what_it_compares",
                violation_error_message="Say which readings the difference is of.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_range(self) -> bool:
        """Tell whether this is computed from other readings and never typed."""
        return self.computed in RANGES
