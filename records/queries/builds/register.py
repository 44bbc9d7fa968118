"""What blanks and propellers there are, and what each is made of."""

from django.db.models import Count, Q, QuerySet

from records.models import (
    Blank,
    Designation,
    Lamination,
    LoadedBlank,
    MaterialChange,
    Propeller,
    Revision,
    StageEvent,
)

_WHOLE_LAMINATION = ("board__lot__material", "blank")


def blanks_listed() -> QuerySet[Blank]:
    """List blanks with their design, newest first, each with counts.

    `laid` counts the good laminations, `made` the propellers.
    """
    return (
        Blank.objects.with_related()
        .annotate(
            laid=Count(
                "laminations",
                Q(laminations__state=Lamination.State.GOOD),
                distinct=True,
            ),
            made=Count("propellers", distinct=True),
        )
        .order_by("-pk")
    )


def propellers_listed() -> QuerySet[Propeller]:
    """List propellers with their design and blank, newest first."""
    return Propeller.objects.with_related().order_by("-pk")


def stack_of(blank: Blank) -> list[Lamination]:
    """Give the good laminations of a blank from the bottom up, with their wood."""
    laminations = blank.laminations.filter(state=Lamination.State.GOOD)
    return list(
        laminations.select_related(*_WHOLE_LAMINATION).order_by("position", "pk")
    )


def voided_of(blank: Blank) -> list[Lamination]:
    """Give the laminations voided while they lay in a blank: their numbers' gaps."""
    laminations = blank.laminations.filter(state=Lamination.State.VOID)
    return list(
        laminations.select_related(*_WHOLE_LAMINATION).order_by("position", "pk")
    )


def laminations_free(also: Lamination | None = None) -> QuerySet[Lamination]:
    """List the good laminations that lie in no blank, and one that does."""
    free = Q(blank__isnull=True) | Q(pk=also.pk if also else None)
    return (
        Lamination.objects.filter(free, state=Lamination.State.GOOD)
        .select_related(*_WHOLE_LAMINATION)
        .order_by("number", "pk")
    )


def species_allowed(revision: Revision) -> dict[int, str]:
    """Give the materials that a revision allows, key to name."""
    return dict(revision.species.order_by("name", "pk").values_list("pk", "name"))


def loads_of(blank: Blank) -> list[LoadedBlank]:
    """Give the press loads a blank has been in, first to last."""
    loaded = LoadedBlank.objects.filter(blank=blank).select_related("load__press")
    return list(loaded.order_by("load__on_at", "pk"))


def propellers_of(blank: Blank) -> list[Propeller]:
    """Give the propellers made of a blank."""
    propellers = blank.propellers.select_related("revision__design")
    return list(propellers.order_by("pk"))


def designations_of(propeller: Propeller) -> list[Designation]:
    """Give what a propeller was designated as, one after the other."""
    designations = propeller.designations.select_related(
        "before__design", "after__design", "written_by"
    )
    return list(designations.order_by("happened_at", "pk"))


def material_changes_of(propeller: Propeller) -> list[MaterialChange]:
    """Give what was removed from or added to a propeller outside the plan."""
    changes = propeller.material_changes.select_related("written_by")
    return list(changes.order_by("happened_at", "pk"))


def stage_events_of(subject: Blank | Propeller) -> list[StageEvent]:
    """Give what began, ended or was noted at the stages of a blank or propeller."""
    events = subject.events.select_related("stage", "written_by")
    return list(events.order_by("happened_at", "pk"))
