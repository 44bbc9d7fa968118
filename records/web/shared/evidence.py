"""What a page shows of readings, photos and stages: ready strings, no query."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Model
from django.urls import reverse

from records.spelling.readings import figure_of, name_of, verdict_of
from records.spelling.verdicts import Verdict
from records.models import Attachment, Reading
from records.queries.builds.progress import Progress, StageState
from records.rules.finding import Finding
from records.rules.gates.stage import missing
from records.spelling.quantities import in_unit
from records.spelling.units import unit_name
from records.spelling.moments import when
from records.web.shared.pages import sign_page


@dataclass(frozen=True, slots=True)
class ReadingLine:
    """A reading as a line: what, where, the figure, and how it was judged."""

    name: str
    figure: str
    verdict: Verdict
    about: str


@dataclass(frozen=True, slots=True)
class PhotoLine:
    """A photo or paper attached to a thing."""

    url: str
    caption: str
    is_picture: bool
    about: str


@dataclass(frozen=True, slots=True)
class StageLine:
    """A stage of a thing: signed, or what it still needs."""

    name: str
    url: str
    verdict: str
    word: str
    css: str
    hold_point: bool
    missing: list[Finding]


def reading_lines(readings: Iterable[Reading]) -> list[ReadingLine]:
    """Spell readings, selected with `with_related()`, as lines."""
    return [reading_line(reading) for reading in readings]


def photo_lines(attachments: Iterable[Attachment]) -> list[PhotoLine]:
    """Spell attachments, selected with file and writer, as lines."""
    return [
        PhotoLine(
            url=reverse("files:file", args=[a.pk]),
            caption=a.caption,
            is_picture=a.file.media_type.startswith("image/"),
            about=f"{when(a.happened_at)}, {a.written_by.name}",
        )
        for a in attachments
    ]


def stage_lines(progress: Progress, thing: Model) -> list[StageLine]:
    """Spell the stages signed on a thing; the first open one is the present one."""
    states = progress.of(thing)
    present = next((s for s in states if s.signed is None), None)
    return [_stage_line(progress, state, now=state is present) for state in states]


def _stage_line(progress: Progress, state: StageState, *, now: bool) -> StageLine:
    signed = state.signed
    wanting = [] if signed else missing(progress, state)
    if signed:
        word = f"signed by {signed.printed_name}"
    elif state.signatures:
        word = "signature void: sign again"
    else:
        word = f"{len(wanting)} to do" if wanting else "ready to sign"
    return StageLine(
        name=state.stage.name,
        url=sign_page(state.subject, state.stage),
        verdict="ok" if signed else "waiting",
        word=word,
        css="done" if signed else "now" if now else "",
        hold_point=state.stage.hold_point,
        missing=wanting if now else [],
    )


def reading_line(reading: Reading) -> ReadingLine:
    """Spell one reading, selected with `with_related()`, as a line."""
    return ReadingLine(
        name=name_of(reading),
        figure=figure_of(reading),
        verdict=verdict_of(reading),
        about=_about(reading),
    )


def _about(reading: Reading) -> str:
    parts = [when(reading.happened_at), reading.written_by.name]
    parts += [f"gauge {reading.gauge.number}"] if reading.gauge else []
    parts += [reading.flags.replace("\n", " ")] if reading.flags else []
    return ", ".join(parts)
