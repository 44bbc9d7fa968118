"""Deviations: what they touch, what is decided, and what they still wait for."""

from django.db.models import Count, Exists, OuterRef, Prefetch, Q, QuerySet

from records.models import (
    CorrectiveAction,
    Deviation,
    DeviationSubject,
    Disposition,
    Hold,
    Reading,
)
from records.models.subjects import ANY_KINDS


def subjects_of(deviation: Deviation) -> QuerySet[DeviationSubject]:
    """List what a deviation is about, each with its thing and reading."""
    return (
        DeviationSubject.objects.filter(deviation=deviation)
        .select_related(
            *ANY_KINDS,
            "propeller__blank",
            "blank__revision",
            "reading__characteristic__stage",
            "reading__gauge",
            "reading__station",
            "reading__written_by",
        )
        .order_by("pk")
    )


def undecided(deviation: Deviation) -> list[DeviationSubject]:
    """List what a deviation is about that nothing is decided on."""
    return list(subjects_of(deviation).filter(disposed__isnull=True))


def open_actions(deviation: Deviation) -> list[CorrectiveAction]:
    """List the actions not done, and those found not effective with none after."""
    actions = list(actions_of(deviation))
    last = max((action.pk for action in actions), default=0)
    return [
        action
        for action in actions
        if action.done_on is None or (action.pk == last and _did_not_work(action))
    ]


def actions_of(deviation: Deviation) -> QuerySet[CorrectiveAction]:
    """List the actions of a deviation with their owners and checks."""
    actions = CorrectiveAction.objects.filter(deviation=deviation)
    return (
        actions.select_related("owner")
        .prefetch_related("checks__written_by")
        .order_by("due_on", "pk")
    )


def _did_not_work(action: CorrectiveAction) -> bool:
    checks = list(action.checks.all())
    return bool(checks) and not checks[-1].effective


def still_held(deviation: Deviation) -> list[Hold]:
    """List the standing holds of a deviation that have to be released.

    The hold on a mix that was thrown away stands for good: it keeps the mix from use.
    """
    thrown_away = DeviationSubject.objects.filter(
        mix=OuterRef("mix"), disposed__disposition__kind=Disposition.Kind.SCRAP
    )
    holds = Hold.objects.standing().filter(deviation=deviation)
    holds = holds.exclude(Q(mix__isnull=False) & Exists(thrown_away))
    return list(holds.select_related(*ANY_KINDS).order_by("pk"))


def needed_by_others(hold: Hold) -> list[Deviation]:
    """List the other open deviations that keep a thing only by this hold.

    They touch the same thing, have not decided about it, and hold it by no hold of
    their own.
    """
    same = {f"{hold.subject_kind}_id": getattr(hold, f"{hold.subject_kind}_id")}
    about = Q(joint__isnull=True) | Q(joint=hold.joint)
    touching = DeviationSubject.objects.filter(
        about if hold.joint else Q(), disposed__isnull=True, **same
    )
    own = Hold.objects.standing().filter(deviation=OuterRef("pk"), **same)
    others = Deviation.objects.filter(
        ~Exists(own), state=Deviation.State.OPEN, pk__in=touching.values("deviation")
    ).order_by("number", "pk")
    return [other for other in others if other.pk != hold.deviation_id]


def deviations_listed() -> QuerySet[Deviation]:
    """List deviations with how much each holds, has decided and has to do."""
    standing = Q(holds__isnull=False, holds__release__isnull=True)
    to_do = Q(actions__isnull=False, actions__done_on__isnull=True)
    return (
        Deviation.objects.select_related("stage", "written_by")
        .annotate(
            holds_standing=Count("holds", filter=standing, distinct=True),
            actions_to_do=Count("actions", filter=to_do, distinct=True),
            decided=Exists(Disposition.objects.filter(deviation=OuterRef("pk"))),
        )
        .prefetch_related(
            Prefetch("subjects", DeviationSubject.objects.select_related(*ANY_KINDS)),
            "dispositions",
        )
        .order_by("-happened_at", "-pk")
    )


def dispositions_of(deviation: Deviation) -> QuerySet[Disposition]:
    """List what was decided in a deviation, about what, and by whom."""
    about = DeviationSubject.objects.select_related(*ANY_KINDS)
    return (
        Disposition.objects.filter(deviation=deviation)
        .select_related("written_by", "proof__file")
        .prefetch_related("repeat", Prefetch("disposed__subject", about))
        .order_by("happened_at", "pk")
    )


def holds_of(deviation: Deviation) -> QuerySet[Hold]:
    """List the holds of a deviation, released ones too."""
    holds = Hold.objects.filter(deviation=deviation)
    kept = holds.select_related(*ANY_KINDS, "written_by", "release__written_by")
    return kept.order_by("happened_at", "pk")


def open_about(kind: str, pk: int) -> list[Deviation]:
    """List the open deviations about one thing itself."""
    about = DeviationSubject.objects.filter(**{kind: pk}).values("deviation")
    deviations = Deviation.objects.filter(state=Deviation.State.OPEN, pk__in=about)
    return list(deviations.order_by("number", "pk"))


def readings_beside(reading: Reading) -> list[Reading]:
    """List the standing readings of the same kind on the same thing, by station."""
    key = f"{reading.subject_kind}_id"
    beside = Reading.objects.standing().filter(
        characteristic=reading.characteristic_id,
        station__isnull=False,
        **{key: getattr(reading, key)},
    )
    return list(
        beside.select_related("station", "characteristic").order_by(
            "station__radius_mm", "blade", "pk"
        )
    )
