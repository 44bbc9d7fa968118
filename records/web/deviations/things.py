"""Things as a form names them: "2026-004, blank K0007 joint 3, M0012"."""

import re

from django import forms
from django.db.models import Model

from records.queries.subjects import MODELS, called, kind_of, named, number_of
from records.rules.deviations.opening import Touched

MOST = 60
_PART = re.compile(
    rf"^(?:(?P<kind>{'|'.join(MODELS)})\s+)?(?P<number>\S+)"
    r"(?:\s+joint\s+(?P<joint>\d{1,3}))?$",
    re.IGNORECASE,
)


class ThingsField(forms.CharField):
    """One or more things by number, each with its kind and joint where needed."""

    def __init__(self, **kwargs: object) -> None:
        super().__init__(
            label="What it touches",
            max_length=1000,
            help_text="Numbers with commas between: 2026-004, M0012, K0007 joint 3",
            **kwargs,  # type: ignore[arg-type]
        )

    def clean(self, value: object) -> list[Touched]:
        """Find every thing, or say which part can't be found or is not plain."""
        typed = super().clean(value)
        parts = [part.strip() for part in typed.replace(";", ",").split(",")]
        matches = [_PART.match(part) for part in parts if part]
        if None in matches or len(matches) > MOST:
            raise forms.ValidationError(
                "Write numbers with commas between, at most "
                f"{MOST}: 2026-004, M0012, K0007 joint 3."
            )
        toucheds = named(m["number"] for m in matches if m)
        return [_touched(match, toucheds) for match in matches if match]


def _touched(match: re.Match[str], things: list[Model]) -> Touched:
    number, kind = match["number"].upper(), (match["kind"] or "").lower()
    same = [
        thing
        for thing in things
        if number_of(thing).upper() == number and kind in ("", kind_of(thing))
    ]
    if not same:
        text = match.group(0)
        raise forms.ValidationError(f"{text} is not in the book. Check the number.")
    if len(same) > 1:
        names = " or ".join(called(thing).removeprefix("press ") for thing in same)
        raise forms.ValidationError(f"{match['number']} may be {names}. Write which.")
    return Touched(same[0], joint=int(match["joint"]) if match["joint"] else None)
