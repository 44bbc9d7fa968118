"""Conformity records: numbered and frozen; superseded or withdrawn, never edited."""

from django.db import models
from django.db.models import Q

from records.models.base import Record
from records.models.builds import Propeller
from records.models.files import StoredFile


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

    class Meta:
        ordering = ["-issued_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["propeller", "issue"], name="one_issue_a_number"
            ),
            models.CheckConstraint(
                condition=Q(replaces__isnull=True) | ~Q(reason=""),
                name="reissue_says_why",
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
