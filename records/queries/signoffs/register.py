"""Signatures and refused attempts, as lists show them."""

from django.db.models import QuerySet

from records.models import RefusedSignature, SignOff
from records.models.subjects import MATERIAL_KINDS


def signoffs_listed() -> QuerySet[SignOff]:
    """List every signature with its stage, thing and signer, the newest first."""
    rows = SignOff.objects.select_related("stage", "written_by", *MATERIAL_KINDS)
    return rows.order_by("-happened_at", "-pk")


def refusals_listed() -> QuerySet[RefusedSignature]:
    """List every attempt to sign that was refused, the newest first."""
    rows = RefusedSignature.objects.select_related(
        "stage", "written_by", *MATERIAL_KINDS
    )
    return rows.order_by("-happened_at", "-pk")
