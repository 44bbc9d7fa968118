"""Conformity records: whose, which is in force, what each replaced."""

from django.db.models import QuerySet

from records.models import Attachment, ConformityRecord, Propeller

_ABOUT_THE_STAMP = ("stamp", "mark")


def records_listed() -> QuerySet[ConformityRecord]:
    """List every record, newest first, with its propeller and what became of it."""
    return ConformityRecord.objects.with_related().order_by("-issued_at", "-pk")


def records_of(propeller: Propeller) -> list[ConformityRecord]:
    """Give every record of a propeller, newest first."""
    records = ConformityRecord.objects.with_related().filter(propeller=propeller)
    return list(records.order_by("-issue", "-pk"))


def record_in_force(propeller: Propeller) -> ConformityRecord | None:
    """Find the record that stands for a propeller, or None."""
    records = (
        ConformityRecord.objects.with_related().in_force().filter(propeller=propeller)
    )
    return records.order_by("-issue", "-pk").first()


def newest_record(propeller: Propeller) -> ConformityRecord | None:
    """Find the last record issued for a propeller, withdrawn or not."""
    records = ConformityRecord.objects.filter(propeller=propeller)
    return records.order_by("-issue", "-pk").first()


def record_by_number(number: str) -> ConformityRecord | None:
    """Find a record by its number, whatever the case, or by a digest on it."""
    typed = number.strip()
    records = ConformityRecord.objects.with_related()
    by_number = records.filter(number__iexact=typed).first()
    digest = "".join(typed.split()).lower()
    return by_number or records.filter(facts_digest=digest).first()


def pictures_of(propeller: Propeller) -> QuerySet[Attachment]:
    """List the photos attached to a propeller, newest first."""
    attachments = Attachment.objects.filter(
        propeller=propeller, file__media_type__startswith="image/"
    )
    return attachments.select_related("file").order_by("-happened_at", "-pk")


def stamp_photo(propeller: Propeller) -> Attachment | None:
    """Propose the newest photo whose caption speaks of the stamp or the marking."""
    return next(
        (
            photo
            for photo in pictures_of(propeller)
            if any(word in photo.caption.lower() for word in _ABOUT_THE_STAMP)
        ),
        None,
    )
