"""All that is on file about one deviation: for its page and for its report."""

from collections import defaultdict
from dataclasses import dataclass

from django.db.models import Q

from records.models import (
    Attachment,
    CorrectiveAction,
    Deviation,
    DeviationSubject,
    Disposition,
    Hold,
)
from records.queries.deviations.register import (
    actions_of,
    dispositions_of,
    holds_of,
    subjects_of,
)
from records.queries.files import attached
from records.queries.reach.destinations import Destination, destinations
from records.queries.reach.material import leads_to
from records.queries.subjects import about

Thing = tuple[str, int]


@dataclass(frozen=True)
class DeviationFile:
    """A deviation with everything written about it.

    `reached` gives the propellers that each thing it touches is, or went into.
    """

    deviation: Deviation
    subjects: list[DeviationSubject]
    reached: dict[Thing, list[Destination]]
    holds: list[Hold]
    dispositions: list[Disposition]
    actions: list[CorrectiveAction]
    photos: list[Attachment]

    @property
    def undecided(self) -> list[DeviationSubject]:
        """Give what nothing is decided about."""
        decided = {
            d.subject_id
            for disposition in self.dispositions
            for d in disposition.disposed.all()
        }
        return [s for s in self.subjects if s.pk not in decided]

    @property
    def standing(self) -> list[Hold]:
        """Give the holds that stand."""
        return [hold for hold in self.holds if not hasattr(hold, "release")]

    @property
    def serials(self) -> list[Destination]:
        """Give every propeller reached, each once, by serial."""
        by_key = {place.pk: place for group in self.reached.values() for place in group}
        return sorted(by_key.values(), key=lambda place: (place.serial, place.pk))


def file_of(deviation: Deviation) -> DeviationFile:
    """Gather all that is on file about a deviation: twelve queries."""
    subjects = list(subjects_of(deviation))
    ids: defaultdict[str, list[int]] = defaultdict(list)
    for subject in subjects:
        kind, pk = key_of(subject)
        if pk not in ids[kind]:
            ids[kind].append(pk)
    return DeviationFile(
        deviation=deviation,
        subjects=subjects,
        reached=_reached(ids),
        holds=list(holds_of(deviation)),
        dispositions=list(dispositions_of(deviation)),
        actions=list(actions_of(deviation)),
        photos=list(
            attached(
                about(ids) & Q(happened_at__gte=deviation.happened_at)
                | Q(reading__in=[s.reading_id for s in subjects if s.reading_id])
            )
        ),
    )


def key_of(row: DeviationSubject | Hold) -> Thing:
    """Give kind and key of the thing that a row is about."""
    kind = row.subject_kind
    return kind, getattr(row, f"{kind}_id")


def _reached(ids: dict[str, list[int]]) -> dict[Thing, list[Destination]]:
    links = leads_to(ids, "propeller")
    if not links:
        return {}
    places = {d.pk: d for d in destinations(Q(pk__in={pk for _, pk in links}))}
    places_of: defaultdict[Thing, list[Destination]] = defaultdict(list)
    for thing, pk in links:
        places_of[thing].append(places[pk])
    return {
        thing: sorted(group, key=lambda place: (place.serial, place.pk))
        for thing, group in places_of.items()
    }
