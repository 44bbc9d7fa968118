"""From what a phone, a scanner or a finger gives to the thing that is meant."""

import re
from collections.abc import Collection
from dataclasses import dataclass
from typing import Final
from urllib.parse import unquote

from django.db.models import Model
from django.db.models.functions import Lower

from records.models import Propeller, Tag
from records.models.subjects import ANY_KINDS
from records.queries.subjects import MODELS, kind_of, number_field

# Crockford's base 32: no I, L, O and U, which are read as 1, 1, 0 and V.
ALPHABET: Final = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
CODE_LENGTH: Final = 16
MOST_FOUND: Final = 20
_LIKE = str.maketrans("ILOU", "110V")
_LINK = re.compile(r"/t/([^/?#\s]+)/([^?#]+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Scan:
    """What was scanned or typed: a tag's code, a number, or both from a link."""

    code: str = ""
    number: str = ""


def read_scan(text: str) -> Scan:
    """Read what came into the box: a whole link of any host, a code, or a number.

    >>> read_scan("HTTP://OLD.EXAMPLE/T/ABCD/2026-001")
    Scan(code='ABCD', number='2026-001')
    """
    typed = " ".join(text.split())
    link = _LINK.search(typed)
    if link:
        return Scan(folded(unquote(link[1])), unquote(link[2]).strip(" /"))
    code = folded(typed)
    looks_like_one = len(code) == CODE_LENGTH and set(code) <= set(ALPHABET)
    return Scan(code=code if looks_like_one else "", number=typed)


def folded(code: str) -> str:
    """Spell a code as it is kept: capitals, no gaps, look-alikes folded together.

    >>> folded("olo1 abcd")
    '0101ABCD'
    """
    plain = re.sub(r"[\s-]", "", code).upper()
    return plain.translate(_LIKE)


def tag_by_code(code: str) -> Tag | None:
    """Find a tag by its code, with the thing it is on."""
    if not code:
        return None
    tags = Tag.objects.filter(code=folded(code))
    return tags.select_related(*ANY_KINDS, "propeller__revision__design").first()


def tag_on(thing: Model) -> Tag | None:
    """Find the tag of a thing."""
    return Tag.objects.filter(**{kind_of(thing): thing.pk}).first()


def tags_on(kind: str, pks: Collection[int]) -> dict[int, Tag]:
    """Find the tags of many things of one kind, by the thing's key: one query."""
    tags = Tag.objects.filter(**{f"{kind}__in": pks})
    return {getattr(tag, f"{kind}_id"): tag for tag in tags}


def things_called(number: str) -> list[Model]:
    """Find what bears this very number, whatever the case; one query a kind."""
    if not number:
        return []
    things: list[Model] = []
    for kind in ("propeller", *(k for k in ANY_KINDS if k != "propeller")):
        model = MODELS[kind]
        lookup = {f"{number_field(kind)}__iexact": number}
        things += model._default_manager.filter(**lookup)
    return things


def propellers_with(part: str) -> list[Propeller]:
    """Find propellers by a part of the serial, as on a worn stamp: twenty at most."""
    if not part:
        return []
    propellers = Propeller.objects.with_related().filter(serial__icontains=part)
    return list(propellers.order_by("serial", "pk")[:MOST_FOUND])


def propeller_by_serial(serial: str) -> Propeller | None:
    """Find a propeller by its whole serial, whatever the case."""
    propellers = Propeller.objects.with_related().filter(serial__iexact=serial.strip())
    return propellers.first()


def propellers_called(serials: Collection[str]) -> dict[str, Propeller]:
    """Find many propellers by their whole serials, by serial in lower case."""
    lowered = {serial.lower() for serial in serials}
    propellers = Propeller.objects.annotate(lowered=Lower("serial"))
    return {p.serial.lower(): p for p in propellers.filter(lowered__in=lowered)}
