"""The shop itself: one row of settings, and its series of numbers."""

from django.core.validators import RegexValidator
from django.db import models
from django.db.models import Q

# A shop's own network has names without a dot, which Django's URLs do not allow.
ADDRESS = RegexValidator(
    r"\Ahttps?://(\[[0-9A-Fa-f:]+\]|[A-Za-z0-9]([A-Za-z0-9.-]*[A-Za-z0-9])?)"
    r"(:[0-9]{1,5})?(/[A-Za-z0-9._~/-]*)?\Z",
    "Enter an address such as http://shop.local:8000 or https://airscrews.example.",
)


class Shop(models.Model):
    """What the shop has decided about itself. There is one row, number 1."""

    class DecisionRule(models.TextChoices):
        SIMPLE = "simple", "as read: inside up to and including the limit"
        GUARDED = "guarded", "guarded: inside only by more than the uncertainty"

    class OverdueGauge(models.TextChoices):
        REFUSE = "refuse", "refuse the reading"
        FLAG = "flag", "take the reading and flag it"

    class Units(models.TextChoices):
        METRIC = "metric", "metric first"
        INCH = "inch", "inch first"

    id = models.PositiveSmallIntegerField(primary_key=True, default=1, editable=False)
    name = models.CharField("shop's name", max_length=80)
    address = models.TextField(blank=True)
    contact = models.CharField(
        "telephone or e-mail for owners", max_length=120, blank=True
    )
    place = models.CharField("place printed on records", max_length=80, blank=True)
    base_url = models.CharField(
        "address printed in tags",
        max_length=200,
        validators=[ADDRESS],
        default="http://localhost:8000",
        help_text="Where a phone in the shop, or an owner, reaches this program.",
    )
    units_first = models.CharField(max_length=8, choices=Units, default=Units.METRIC)
    decision_rule = models.CharField(
        max_length=10, choices=DecisionRule, default=DecisionRule.SIMPLE
    )
    overdue_gauge = models.CharField(
        max_length=8, choices=OverdueGauge, default=OverdueGauge.REFUSE
    )
    same_person_delay_h = models.PositiveSmallIntegerField(
        "hours before the same person may check again", default=12
    )
    retention = models.CharField(
        "how long records are kept",
        max_length=120,
        default="for the life of the propeller",
    )
    serial_pattern = models.CharField(max_length=40, default="{year}-{n:03}")
    lot_pattern = models.CharField(max_length=40, default="L{n:04}")
    board_pattern = models.CharField(max_length=40, default="B{n:04}")
    blank_pattern = models.CharField(max_length=40, default="K{n:04}")
    mix_pattern = models.CharField(max_length=40, default="M{n:04}")
    load_pattern = models.CharField(max_length=40, default="P{n:04}")
    coupon_pattern = models.CharField(max_length=40, default="C{n:04}")
    deviation_pattern = models.CharField(max_length=40, default="D{n:04}")
    conformity_pattern = models.CharField(max_length=40, default="CR{n:05}")

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(id=1), name="there_is_one_shop")
        ]

    def __str__(self) -> str:
        return self.name


class NumberSeries(models.Model):
    """The last number given out in a series: numbers are never used twice."""

    kind = models.CharField(max_length=20)
    year = models.PositiveSmallIntegerField()
    last = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["kind", "year"], name="one_series_a_year")
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.year}: {self.last}"


class SetUpLink(models.Model):
    """A one-time link for the first owner's account; only its digest is kept."""

    digest = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"set-up link of {self.made_at:%Y-%m-%d %H:%M}"


class BackupRun(models.Model):
    """A backup that was tried, and whether its copy could be restored and verified."""

    at = models.DateTimeField()
    file_name = models.CharField(max_length=255)
    sequence = models.PositiveBigIntegerField("last entry in it", default=0)
    digest = models.CharField("digest of that entry", max_length=64, blank=True)
    good = models.BooleanField()

    class Meta:
        ordering = ["-at", "-pk"]

    def __str__(self) -> str:
        return self.file_name
