"""Give things their tags: a code that nobody can guess, once for each thing."""

import secrets
from collections.abc import Iterable

from django.db.models import Model

from records.models import Tag
from records.queries.subjects import kind_of, number_of
from records.queries.tags import ALPHABET, CODE_LENGTH, tag_on, tags_on
from records.services.ledger import Act, Entry


def tag_for(*, act: Act, thing: Model) -> Tag:
    """Give the tag of a thing, and make one where it has none yet."""
    return tag_on(thing) or _written(act, thing)


def tags_for(*, act: Act, things: Iterable[Model]) -> list[Tag]:
    """Give the tags of several things in their order; missing ones are made."""
    wanted = list(things)
    by_kind: dict[str, set[int]] = {}
    for thing in wanted:
        by_kind.setdefault(kind_of(thing), set()).add(thing.pk)
    known = {
        (kind, pk): tag
        for kind, pks in by_kind.items()
        for pk, tag in tags_on(kind, pks).items()
    }
    new = {(kind_of(t), t.pk): t for t in wanted if (kind_of(t), t.pk) not in known}
    if new:
        with Entry(act, "make tags") as entry:
            entry.subject = ", ".join(number_of(t) for t in new.values())[:120]
            made = entry.add_many([_row(thing) for thing in new.values()])
        known |= dict(zip(new, made, strict=True))
    return [known[kind_of(thing), thing.pk] for thing in wanted]


def add_tag(entry: Entry, thing: Model) -> Tag:
    """Give the tag of a thing within an open entry."""
    return tag_on(thing) or entry.add(_row(thing))


def _written(act: Act, thing: Model) -> Tag:
    with Entry(act, "make tag") as entry:
        entry.subject = number_of(thing)
        return add_tag(entry, thing)


def _row(thing: Model) -> Tag:
    tag = Tag(code=_new_code())
    setattr(tag, kind_of(thing), thing)
    return tag


def _new_code() -> str:
    """Draw 80 random bits in 16 characters that are hard to confuse."""
    return "".join(secrets.choice(ALPHABET) for _ in range(CODE_LENGTH))
