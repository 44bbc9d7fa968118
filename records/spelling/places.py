"""Places on a thing: blade, station, joint, point."""

from decimal import Decimal

from records.spelling.quantities import own_length


def place(
    *,
    blade: int | None = None,
    radius_mm: Decimal | None = None,
    joint: int | None = None,
    point: str = "",
) -> str:
    """Spell where on a thing something is: "blade 1 at 165 mm, edge".

    Empty where the whole thing is meant.
    """
    spot = [f"blade {blade}"] if blade else []
    spot += [f"at {own_length(radius_mm)}"] if radius_mm is not None else []
    spot += [f"joint {joint}"] if joint else []
    return ", ".join(part for part in (" ".join(spot), point) if part)
