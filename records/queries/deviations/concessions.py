"""What was found outside and accepted all the same, by somebody with authority."""

from collections import defaultdict
from collections.abc import Collection, Iterable

from django.db.models import Q

from records.models import Deviation, DeviationSubject, Disposition, Reading
from records.queries.provenance.made_of import Key
from records.queries.subjects import about

ACCEPTING = (Disposition.Kind.USE_AS_IS, Disposition.Kind.REPAIR)


def named_subjects(keys: Iterable[Key], readings: Iterable[Reading]) -> list[int]:
    """Give the keys of all that deviations name of a chain and of its readings."""
    asked = about(_by_kind(keys)) | Q(reading__in=[r.pk for r in readings])
    return list(DeviationSubject.objects.filter(asked).values_list("pk", flat=True))


def accepted_subjects(subjects: Collection[int]) -> list[DeviationSubject]:
    """List which of these subjects of deviations a closed one accepted."""
    if not subjects:
        return []
    rows = DeviationSubject.objects.filter(
        pk__in=subjects,
        deviation__state=Deviation.State.CLOSED,
        disposed__disposition__kind__in=ACCEPTING,
    )
    return list(rows.distinct().order_by("pk"))


def accepted_readings(subjects: Iterable[DeviationSubject]) -> set[int]:
    """Name the readings that are accepted as they are."""
    return {s.reading_id for s in subjects if s.reading_id is not None}


def accepted_joints(subjects: Iterable[DeviationSubject]) -> set[tuple[int, int]]:
    """Name the joints that are accepted as they are, as blank and joint."""
    return {
        (s.blank_id, s.joint)
        for s in subjects
        if s.blank_id is not None and s.joint is not None
    }


def accepted_things(subjects: Iterable[DeviationSubject], kind: str) -> set[int]:
    """Name the things of one kind that are accepted as they are, as a whole."""
    return {
        key
        for s in subjects
        if (key := getattr(s, f"{kind}_id")) is not None
        and s.reading_id is None
        and s.joint is None
    }


def _by_kind(keys: Iterable[Key]) -> dict[str, list[int]]:
    keys_by_kind: defaultdict[str, list[int]] = defaultdict(list)
    for kind, pk in keys:
        keys_by_kind[kind].append(pk)
    return keys_by_kind
