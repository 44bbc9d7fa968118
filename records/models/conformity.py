"""Releases, and the conformity records of what was released: frozen, never edited."""

from django.db import models
from django.db.models import Q

from records.models.base import Record
from records.models.builds import Propeller
from records.models.files import StoredFile


class Release(Record):
    """A propeller released: everything planned was done, and nothing speaks against."""

    propeller = models.ForeignKey(Propeller, models.PROTECT, related_name="releases")
    happened_at = models.DateTimeField("released at")
    printed_name = models.CharField("released by, printed name", max_length=80)

    class Meta:
        ordering = ["propeller", "happened_at", "pk"]

    def __str__(self) -> str:
        return f"released by {self.printed_name}"


class ConformityRecordQuerySet(models.QuerySet["ConformityRecord"]):
    """Conformity records."""

    def in_force(self) -> "ConformityRecordQuerySet":
        """Leave out those that were replaced or withdrawn."""
        return self.filter(replaced_by__isnull=True, withdrawal__isnull=True)

    def with_related(self) -> "ConformityRecordQuerySet":
        """Bring design, replacement, withdrawal and the PDF's place in the query."""
        return self.select_related(
            "propeller__revision__design",
            "pdf",
            "replaces",
            "replaced_by",
            "withdrawal",
            "written_by",
        )


class ConformityRecord(Record):
    """One issue of the customer's paper: its facts, their seal and the PDF's bytes."""

    number = models.CharField(max_length=40, unique=True)
    propeller = models.ForeignKey(
        Propeller, models.PROTECT, related_name="conformity_records"
    )
    issue = models.PositiveSmallIntegerField("issue for this serial")
    replaces = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="replaced_by"
    )
    reason = models.CharField("why issued again", max_length=200, blank=True)
    issued_at = models.DateTimeField()
    signer = models.CharField("signed by, printed name", max_length=80)
    facts = models.TextField("facts as canonical JSON")
    facts_digest = models.CharField(max_length=64)
    seal = models.TextField("detached signature over the facts", blank=True)
    ledger_head = models.CharField(max_length=64)
    pdf = models.ForeignKey(StoredFile, models.PROTECT, related_name="+")

    objects = ConformityRecordQuerySet.as_manager()

    class Meta:
        ordering = ["-issued_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["propeller", "issue"],
                name="one_issue_a_number",
                violation_error_message="Somebody has issued this record just now.",
            ),
            models.CheckConstraint(
                condition=Q(replaces__isnull=True) | ~Q(reason=""),
                name="reissue_says_why",
                violation_error_message="Say why the record is issued again.",
            ),
        ]

    def __str__(self) -> str:
        return self.number


class Withdrawal(Record):
    """A conformity record taken back, with the reason."""

    record = models.OneToOneField(
        ConformityRecord, models.PROTECT, related_name="withdrawal"
    )
    happened_at = models.DateTimeField()
    reason = models.CharField(max_length=200)

    class Meta:
        ordering = ["happened_at", "pk"]

    def __str__(self) -> str:
        return self.reason
