"""Numbers for new things: from the shop's pattern, never given out twice."""

import datetime as dt
from collections.abc import Iterable

from records.models import (
    Blank,
    Board,
    ConformityRecord,
    Coupon,
    Deviation,
    Lot,
    Mix,
    NumberSeries,
    PressLoad,
    Propeller,
    Shop,
)
from records.services.refusal import refuse

NUMBERED = {
    "blank": (Blank, "number"),
    "board": (Board, "number"),
    "conformity": (ConformityRecord, "number"),
    "coupon": (Coupon, "number"),
    "deviation": (Deviation, "number"),
    "load": (PressLoad, "number"),
    "lot": (Lot, "number"),
    "mix": (Mix, "number"),
    "serial": (Propeller, "serial"),
}


def next_number(kind: str, moment: dt.datetime) -> str:
    """Take the next number of a series, e.g. "lot": inside an open entry only."""
    return next_numbers(kind, moment, 1)[0]


def next_numbers(kind: str, moment: dt.datetime, count: int) -> list[str]:
    """Take the next numbers of a series: inside an open entry only.

    The pattern is the shop's: `{year}` and `{n}` stand for the year and the number.
    Numbers that somebody gave by hand, or that an older pattern made, are passed over.
    """
    pattern = str(getattr(Shop.objects.get(), f"{kind}_pattern"))
    year = moment.year if "{year" in pattern else 0
    series, _ = NumberSeries.objects.select_for_update().get_or_create(
        kind=kind, year=year
    )
    numbers: list[str] = []
    while len(numbers) < count:  # again only where numbers are taken
        fresh = range(series.last + 1, series.last + 1 + count - len(numbers))
        series.last = fresh[-1]
        spelled = [_fill(kind, pattern, moment.year, n) for n in fresh]
        taken = _taken(kind, spelled)
        numbers += [number for number in spelled if number not in taken]
    series.save(update_fields=["last"])
    return numbers


def _fill(kind: str, pattern: str, year: int, number: int) -> str:
    try:
        filled = pattern.format(year=year, n=number)
    except (KeyError, IndexError, ValueError) as error:
        raise _unfit(kind, pattern) from error
    if filled == pattern.format(year=year, n=number + 1):
        raise _unfit(kind, pattern)
    return filled


def _unfit(kind: str, pattern: str) -> Exception:
    return refuse(
        f'The pattern "{pattern}" for a {kind} number can\'t be filled in. '
        "Use {year} and {n:04} only, and {n} once, on the shop's page."
    )


def _taken(kind: str, numbers: Iterable[str]) -> set[str]:
    model, field = NUMBERED[kind]
    rows = model._default_manager.filter(**{f"{field}__in": list(numbers)})
    return set(rows.values_list(field, flat=True))
