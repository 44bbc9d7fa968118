"""Numbers for new things: from the shop's pattern, never given out twice."""

import datetime as dt

from records.models import NumberSeries, Shop
from records.services.refusal import refuse


def next_number(kind: str, moment: dt.datetime) -> str:
    """Take the next number of a series, e.g. "lot": inside an open entry only.

    The pattern is the shop's: `{year}` and `{n}` stand for the year and the number.
    """
    pattern = str(getattr(Shop.objects.get(), f"{kind}_pattern"))
    year = moment.year if "{year" in pattern else 0
    series, _ = NumberSeries.objects.select_for_update().get_or_create(
        kind=kind, year=year
    )
    series.last += 1
    series.save(update_fields=["last"])
    try:
        return pattern.format(year=moment.year, n=series.last)
    except (KeyError, IndexError, ValueError) as error:
        raise refuse(
            f'The pattern "{pattern}" for a {kind} number can\'t be filled in. '
            "Use {year} and {n:04} only."
        ) from error
