"""Boards, and the laminations sawn from them."""

from typing import ClassVar

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q

from records.models.base import Correctable, CorrectableRecord, Record, Thing
from records.models.lots import Lot


class BoardQuerySet(models.QuerySet["Board"]):
    """Boards."""

    def with_related(self) -> "BoardQuerySet":
        """Bring the lot, its material and the writer in the same query."""
        return self.select_related("lot__material", "lot__supplier", "written_by")


class Board(Correctable, Thing):
    """One board of a timber lot."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "lot",
        "length_mm",
        "width_mm",
        "thickness_mm",
        "grade",
    )

    class State(models.TextChoices):
        WAITING = "waiting", "waiting for inspection"
        USABLE = "usable", "usable"
        REFUSED = "refused", "refused"
        SAWN = "sawn", "sawn up"

    state_fields: ClassVar[tuple[str, ...]] = ("state",)

    number = models.CharField(max_length=40, unique=True)
    lot = models.ForeignKey(Lot, models.PROTECT, related_name="boards")
    length_mm = models.DecimalField(
        max_digits=7,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
    )
    width_mm = models.DecimalField(
        max_digits=6,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
    )
    thickness_mm = models.DecimalField(
        max_digits=6,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
    )
    grade = models.CharField(max_length=40, blank=True)
    state = models.CharField(max_length=10, choices=State, default=State.WAITING)

    objects = BoardQuerySet.as_manager()

    class Meta:
        ordering = ["number", "pk"]

    def __str__(self) -> str:
        return self.number


class BoardCheck(CorrectableRecord):
    """The inspection of a board: rings, defects, and the decision."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "happened_at",
        "rings",
        "note",
    )

    class Rings(models.TextChoices):
        QUARTER = "quarter", "quarter-sawn"
        RIFT = "rift", "rift-sawn"
        FLAT = "flat", "flat-sawn"
        MIXED = "mixed", "changes along the board"

    board = models.ForeignKey(Board, models.PROTECT, related_name="checks")
    happened_at = models.DateTimeField()
    rings = models.CharField("ring orientation", max_length=8, choices=Rings)
    accepted = models.BooleanField()
    note = models.TextField(blank=True)

    class Meta(CorrectableRecord.Meta):
        ordering = ["board", "happened_at", "pk"]

    def __str__(self) -> str:
        return "accepted" if self.accepted else "refused"


class BoardDefect(Record):
    """One defect found on a board, by its name in AC 43.13-1B, and where it is."""

    class Kind(models.TextChoices):
        CROSS_GRAIN = "cross_grain", "cross grain"
        WAVY_GRAIN = "wavy_grain", "wavy, curly or interlocked grain"
        HARD_KNOT = "hard_knot", "hard knot"
        PIN_KNOTS = "pin_knots", "pin knot cluster"
        SPIKE_KNOT = "spike_knot", "spike knot"
        PITCH_POCKET = "pitch_pocket", "pitch pocket"
        MINERAL_STREAK = "mineral_streak", "mineral streak"
        CHECK = "check", "check, shake or split"
        COMPRESSION_WOOD = "compression_wood", "compression wood"
        COMPRESSION_FAILURE = "compression_failure", "compression failure"
        TENSION_WOOD = "tension_wood", "tension wood"
        DECAY = "decay", "decay or softening stain"
        INSECT = "insect", "insect damage"
        WARP = "warp", "warp"

    check_of = models.ForeignKey(BoardCheck, models.PROTECT, related_name="defects")
    kind = models.CharField(max_length=20, choices=Kind)
    place = models.CharField("where on the board", max_length=80, blank=True)
    cut_round = models.BooleanField("can be cut round", default=False)

    class Meta:
        ordering = ["check_of", "pk"]

    def __str__(self) -> str:
        return self.get_kind_display()


class LaminationQuerySet(models.QuerySet["Lamination"]):
    """Laminations."""

    def good(self) -> "LaminationQuerySet":
        """Leave out those whose number is void."""
        return self.filter(state=Lamination.State.GOOD)

    def with_related(self) -> "LaminationQuerySet":
        """Bring board, lot, material and blank in the same query."""
        return self.select_related("board__lot__material", "blank", "written_by")


class Lamination(Correctable, Thing):
    """A piece of one board: numbered, weighed, and laid in one blank at most."""

    typed_fields: ClassVar[tuple[str, ...]] = (
        "board",
        "place",
        "end_mark",
        "mass_g",
        "balance_point_mm",
    )

    class State(models.TextChoices):
        GOOD = "good", "good"
        VOID = "void", "void"

    state_fields: ClassVar[tuple[str, ...]] = (
        "blank",
        "position",
        "turned",
        "state",
        "void_reason",
    )

    number = models.CharField(max_length=40, unique=True)
    board = models.ForeignKey(Board, models.PROTECT, related_name="laminations")
    place = models.CharField("place in the board", max_length=40, blank=True)
    end_mark = models.CharField("mark on the root end", max_length=20, blank=True)
    mass_g = models.DecimalField(
        max_digits=8,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
    )
    balance_point_mm = models.DecimalField(
        "balance point from the middle, towards the marked end",
        max_digits=7,
        decimal_places=1,
        null=True,
        blank=True,
    )
    blank = models.ForeignKey(
        "records.Blank",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="laminations",
    )
    position = models.PositiveSmallIntegerField(null=True, blank=True)
    turned = models.BooleanField("turned end for end", default=False)
    state = models.CharField(max_length=6, choices=State, default=State.GOOD)
    void_reason = models.CharField(max_length=200, blank=True)

    objects = LaminationQuerySet.as_manager()

    class Meta:
        ordering = ["number", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["blank", "position"],
                condition=Q(state="good", blank__isnull=False),
                name="one_lamination_in_a_place",
                violation_error_message="Another lamination lies in this place.",
            ),
            models.CheckConstraint(
                condition=Q(blank__isnull=True, position__isnull=True)
                | Q(blank__isnull=False, position__isnull=False, position__gte=1),
                name="laid_lamination_has_a_place",
                violation_error_message="A lamination in a blank has a place in it.",
            ),
            models.CheckConstraint(
                condition=~Q(state="void") | ~Q(void_reason=""),
                name="void_lamination_says_why",
                violation_error_message="Say why the number is void.",
            ),
        ]

    def __str__(self) -> str:
        return self.number
