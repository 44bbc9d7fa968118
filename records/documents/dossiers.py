"""Every propeller with all that belongs to it, some at a time."""

from collections.abc import Iterator
from dataclasses import dataclass

from records.models import ConformityRecord, Propeller
from records.queries.provenance.loading import provenances
from records.queries.provenance.made_of import Provenance
from records.queries.provenance.written import Written, written_about

AT_ONCE = 100


@dataclass(frozen=True, slots=True)
class Dossier:
    """A propeller with what it was made of, and everything written about any part."""

    propeller: Propeller
    made: Provenance
    written: Written
    papers: list[ConformityRecord]


def dossiers() -> Iterator[Dossier]:
    """Stream every propeller, by key: a constant number of queries a hundred."""
    last = 0
    while some := list(_propellers(last)):
        by_key = provenances(some)
        made = [by_key["propeller", propeller.pk] for propeller in some]
        for propeller, parts, written in zip(
            some, made, written_about(made), strict=True
        ):
            papers = list(propeller.conformity_records.all())
            yield Dossier(propeller, parts, written, papers)
        last = some[-1].pk


def _propellers(after: int) -> list[Propeller]:
    rows = Propeller.objects.with_related().filter(pk__gt=after).order_by("pk")
    return list(
        rows.prefetch_related(
            "conformity_records__pdf",
            "conformity_records__withdrawal",
            "conformity_records__replaced_by",
            "designations__before__design",
            "designations__after__design",
            "material_changes",
            "releases",
            "ownerships__owner",
            "service_events",
        )[:AT_ONCE]
    )
