"""How a material got into a thing, and what a thing is made of, in few words."""

from collections.abc import Callable, Iterable

from records.models import Lamination, Lot, Mix, Propeller
from records.queries.provenance.loading import provenances
from records.queries.provenance.made_of import Provenance
from records.queries.reach.destinations import Destination
from records.spelling.moments import local_day


def chain_of(made: Provenance, kind: str, number: str) -> list[str]:
    """Say how a material got into a thing; for a coupon, ask by its mix's number."""
    if kind == "load":
        return [text for load, text in _pressed(made) if load == number]
    return [
        *_wood(made, kind, number),
        *_glue(made, kind, number),
        *_later(made, kind, number),
    ]


def made_of_all(places: Iterable[Destination]) -> dict[int, Provenance]:
    """Gather what each of some propellers was made of, by its key."""
    keys = [place.pk for place in places]
    made = provenances(Propeller.objects.filter(pk__in=keys))
    return {pk: made["propeller", pk] for pk in keys}


def in_short(made: Provenance) -> str:
    """Say in one line what a thing is made of: timber, glue, presses, later."""
    parts = {
        "timber": sorted(lot.number for lot in made.timber_lots),
        "glue": sorted({lot.number for mix in made.joint_mixes for lot in _lots(mix)}),
        "pressed": [text for _, text in _pressed(made)],
        "later": [f"{(use.lot or use.mix)}, {use.place}" for use in made.uses],
    }
    return "; ".join(f"{name} {', '.join(of)}" for name, of in parts.items() if of)


def _wood(made: Provenance, kind: str, number: str) -> Iterable[str]:
    names: dict[str, Callable[[Lamination], str]] = {
        "lot": lambda piece: piece.board.lot.number,
        "board": lambda piece: piece.board.number,
        "lamination": lambda piece: piece.number,
    }
    for piece in made.laminations:
        if kind in names and names[kind](piece) == number:
            yield f"lamination {piece.number} of board {piece.board.number}"


def _glue(made: Provenance, kind: str, number: str) -> Iterable[str]:
    joints: dict[str, list[str]] = {}
    for spread in made.spreads:
        if _is_in(spread.mix, kind, number):
            of = joints.setdefault(spread.mix.number, [])
            of += [str(spread.joint)] if str(spread.joint) not in of else []
    for mix, numbers in joints.items():
        word = "joints" if len(numbers) > 1 else "joint"
        yield f"{word} {', '.join(numbers)} by mix {mix}"


def _later(made: Provenance, kind: str, number: str) -> Iterable[str]:
    for use in made.uses:
        if use.mix is not None and _is_in(use.mix, kind, number):
            yield f"{use.place} by mix {use.mix.number}"
        if use.lot is not None and kind == "lot" and use.lot.number == number:
            yield f"{use.place} by lot {use.lot.number}"


def _is_in(mix: Mix, kind: str, number: str) -> bool:
    if kind == "lot":
        return number in {lot.number for lot in _lots(mix)}
    return mix.number == number


def _lots(mix: Mix) -> list[Lot]:
    return [lot for lot in (mix.resin_lot, mix.hardener_lot) if lot is not None]


def _pressed(made: Provenance) -> list[tuple[str, str]]:
    return [
        (load.number, f"press load {load.number}, {local_day(load.on_at)}")
        for load in made.loads
    ]
