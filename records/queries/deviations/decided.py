"""Whether somebody with authority has accepted a thing as it is."""

from django.db.models import Model

from records.queries.deviations.concessions import (
    accepted_subjects,
    accepted_things,
    named_subjects,
)
from records.queries.provenance.loading import provenance_of
from records.queries.subjects import kind_of


def is_accepted(thing: Model) -> bool:
    """Tell whether a closed deviation accepts a mix, load or coupon as a whole."""
    subjects = accepted_subjects(named_subjects(provenance_of(thing).keys(), []))
    return thing.pk in accepted_things(subjects, kind_of(thing))
