"""May this person decide this, on this day? Button and service ask the same."""

import datetime as dt

from records.models import Authority, Person
from records.rules.finding import Finding
from records.spelling.moments import day as spell_day


def may(person: Person, act: Authority.Act, day: dt.date) -> list[Finding]:
    """Say why a person may not do an act on a day; nothing where they may."""
    deed = Authority.Act(act).label
    if not person.is_active:
        return [Finding(f"{person.name} does not work with this book any more.")]
    if person.role == Person.Role.READER:
        return [Finding(f"{person.name} is a reader; a reader may not {deed}.")]
    if Authority.objects.on(day).filter(person=person, act=act).exists():
        return []
    return [
        Finding(
            f"{person.name} has no authority to {deed} on {spell_day(day)}. "
            "Whoever manages people can give it, on the person's page."
        )
    ]
