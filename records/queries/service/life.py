"""A propeller's life besides its making: remade, handed over, used, noticed."""

from dataclasses import dataclass

from records.models import (
    ConformityRecord,
    Designation,
    MaterialChange,
    NoticeSerial,
    Ownership,
    Propeller,
    ServiceEvent,
    StageEvent,
)


@dataclass(frozen=True)
class Life:
    """What happened to one propeller, each list oldest first."""

    designations: list[Designation]
    changes: list[MaterialChange]
    events: list[StageEvent]
    records: list[ConformityRecord]
    ownerships: list[Ownership]
    service: list[ServiceEvent]
    notices: list[NoticeSerial]


def life_of(propeller: Propeller) -> Life:
    """Gather what happened to a propeller: seven queries."""
    records = propeller.conformity_records.select_related("withdrawal", "replaced_by")
    notices = NoticeSerial.objects.filter(propeller=propeller).select_related("notice")
    designations = propeller.designations.select_related(
        "before__design", "after__design"
    )
    events = StageEvent.objects.filter(propeller=propeller) | StageEvent.objects.filter(
        blank=propeller.blank_id
    )
    return Life(
        designations=list(designations.order_by("happened_at", "pk")),
        changes=list(propeller.material_changes.order_by("happened_at", "pk")),
        events=list(events.select_related("stage").order_by("happened_at", "pk")),
        records=list(records.order_by("issued_at", "pk")),
        ownerships=list(
            propeller.ownerships.select_related("owner").order_by("happened_at", "pk")
        ),
        service=list(propeller.service_events.order_by("happened_at", "pk")),
        notices=list(notices.order_by("notice__happened_at", "pk")),
    )
