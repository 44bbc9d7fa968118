"""Things by their kind and number, as a path, a tag or a form names them."""

from collections.abc import Iterable, Mapping
from typing import Final

from django.db.models import Model, Q
from django.db.models.functions import Upper

from records.models import (
    Blank,
    Board,
    Coupon,
    Gauge,
    Lamination,
    Lot,
    Mix,
    PressLoad,
    Propeller,
)

MODELS: Final[dict[str, type[Model]]] = {
    "lot": Lot,
    "board": Board,
    "lamination": Lamination,
    "mix": Mix,
    "load": PressLoad,
    "blank": Blank,
    "propeller": Propeller,
    "coupon": Coupon,
    "gauge": Gauge,
}
WORDS: Final = {kind: kind for kind in MODELS} | {"load": "press load"}
_KINDS = {model: kind for kind, model in MODELS.items()}


def kind_of(thing: Model) -> str:
    """Name the kind of a thing, e.g. "board".

    Raises KeyError for a row that nothing can be about.
    """
    return _KINDS[type(thing)]


def number_of(thing: Model) -> str:
    """Give the number a thing is known by; for a propeller, its serial."""
    return str(getattr(thing, number_field(kind_of(thing))))


def number_field(kind: str) -> str:
    """Name the column that holds the number of a kind of thing."""
    return "serial" if kind == "propeller" else "number"


def called(thing: Model) -> str:
    """Call a thing by kind and number in a sentence, e.g. "press load P0004"."""
    return f"{WORDS[kind_of(thing)]} {number_of(thing)}"


def find(kind: str, number: str) -> Model | None:
    """Find a thing by kind and number, whatever the case; None if there is none."""
    model = MODELS.get(kind)
    if model is None:
        return None
    lookup = {f"{number_field(kind)}__iexact": number.strip()}
    return model._default_manager.filter(**lookup).first()


def named(numbers: Iterable[str], kinds: Iterable[str] = MODELS) -> list[Model]:
    """Find every thing of some kinds that has one of these numbers.

    Upper and lower case are the same. One query a kind, however many numbers.
    """
    wanted = {number.strip().upper() for number in numbers} - {""}
    things: list[Model] = []
    for kind in kinds if wanted else ():
        rows = MODELS[kind]._default_manager.annotate(
            known_as=Upper(number_field(kind))
        )
        things += rows.filter(known_as__in=wanted).order_by("pk")
    return things


def about(ids: Mapping[str, Iterable[int]]) -> Q:
    """Build the condition that a row is about one of these things, by kind."""
    condition = Q(pk__in=[])
    for kind, keys in ids.items():
        condition |= Q(**{f"{kind}__in": list(keys)})
    return condition
