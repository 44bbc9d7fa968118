"""What the page of a deviation shows, and the one thing to do next."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django.urls import reverse
from django.utils.timezone import localdate

from records.models import CorrectiveAction, Deviation, DeviationSubject, Hold
from records.queries.deviations.file import DeviationFile, file_of, key_of
from records.queries.deviations.register import open_actions, still_held
from records.queries.reach.destinations import Destination
from records.queries.trace.serials import ranges
from records.rules.deviations.opening import deviation_may_close, subject_called
from records.spelling.moments import day, when
from records.spelling.verdicts import Verdict
from records.web.deviations.tables import age_days
from records.web.shared.evidence import photo_lines, reading_lines
from records.web.shared.pages import page_of
from records.web.shared.parts import Action, Fact

DisabledReason = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class DeviationLine:
    """One line: its heading, where that leads, what is said, verdict and a link."""

    head: str
    url: str = ""
    about: str = ""
    verdict: str = ""
    word: str = ""
    link: tuple[str, str] = ("", "")


def deviation_page(
    deviation: Deviation, disabled_reason: DisabledReason
) -> dict[str, Any]:
    """Gather a deviation's page.

    `disabled_reason` says why not to "dispose" or to "write".
    """
    whole = file_of(deviation)
    waits = [] if is_closed(deviation) else deviation_may_close(deviation)
    readings = {s.reading.pk: s.reading for s in whole.subjects if s.reading}
    return {
        "deviation": deviation,
        "verdict": _verdict(whole),
        "step": _next(whole, disabled_reason),
        "waits": waits,
        "facts": _facts(deviation),
        "touches": [_subject_line(whole, subject) for subject in whole.subjects],
        "tree": _tree(whole),
        "readings": reading_lines(readings.values()),
        "holds": [_hold_line(hold, whole, disabled_reason) for hold in whole.holds],
        "decisions": _decisions(whole),
        "work": [_action_line(action, disabled_reason) for action in whole.actions],
        "photos": photo_lines(whole.photos),
        "actions": _actions(deviation, disabled_reason),
    }


def is_closed(deviation: Deviation) -> bool:
    """Tell whether a deviation is closed."""
    return deviation.state == Deviation.State.CLOSED


def _verdict(whole: DeviationFile) -> Verdict:
    if is_closed(whole.deviation):
        return Verdict("ok", "closed")
    days = age_days(whole.deviation)
    for_days = f"open for {days} day{'' if days == 1 else 's'}"
    return (
        Verdict("hold", f"on hold, {for_days}")
        if whole.standing
        else Verdict("waiting", for_days)
    )


def _next(whole: DeviationFile, disabled_reason: DisabledReason) -> Action | None:
    if is_closed(whole.deviation):
        return None
    return next(_steps(whole, disabled_reason))


def _steps(whole: DeviationFile, disabled_reason: DisabledReason) -> Iterator[Action]:
    """Give what there is to do, the first thing first: decide, release, act, close."""
    deviation, dispose = whole.deviation, disabled_reason["dispose"]
    args = [deviation.number]
    if whole.undecided:
        yield Action("Decide", reverse("deviations:decide", args=args), dispose)
    for hold in still_held(deviation):
        page = reverse("deviations:release", args=[hold.pk])
        yield Action("Release the hold", page, dispose)
    for action in open_actions(deviation):
        if action.done_on is None:
            page = reverse("deviations:done", args=[action.pk])
            yield Action("Note the action as done", page, disabled_reason["write"])
        page = reverse("deviations:act", args=args)
        yield Action("Add another action", page, disabled_reason["write"])
    yield Action("Close it", reverse("deviations:close", args=args), dispose)


def _facts(deviation: Deviation) -> list[Fact]:
    cause = deviation.cause or "not stated yet"
    if deviation.cause_kind:
        cause = f"{deviation.get_cause_kind_display()}: {cause}"
    facts: list[Fact] = [
        Fact("Required", deviation.required),
        Fact("Found", deviation.found),
        Fact("When found", when(deviation.happened_at)),
        Fact("At stage", deviation.stage or "not said"),
        Fact("Opened by", f"{deviation.written_by}, {when(deviation.written_at)}"),
        Fact("Cause", cause),
    ]
    closed = [Fact("Closed", when(deviation.closed_at))] if deviation.closed_at else []
    return facts + closed


def _subject_line(whole: DeviationFile, subject: DeviationSubject) -> DeviationLine:
    name = subject_called(subject)
    kinds = [
        disposition.get_kind_display()
        for disposition in whole.dispositions
        for disposed in disposition.disposed.all()
        if disposed.subject_id == subject.pk
    ]
    reached = whole.reached.get(key_of(subject), [])
    alone = subject.propeller_id is not None
    serials = f"{len(reached)} serial{'' if len(reached) == 1 else 's'}"
    count = "" if alone else f"reaches {serials}"
    return DeviationLine(
        head=f"{name[0].upper()}{name[1:]}",
        url=page_of(subject.subject),
        about=count,
        verdict="ok" if kinds else "waiting",
        word=", ".join(kinds) or "not decided",
    )


def _tree(whole: DeviationFile) -> list[tuple[str, str, list[tuple[str, str, str]]]]:
    """List below each material the serials it reached, with where each is."""
    named = {key_of(subject): subject for subject in whole.subjects}
    return [
        (subject_called(subject), _ranges(places), [_place_line(p) for p in places])
        for key, subject in named.items()
        if key[0] != "propeller" and (places := whole.reached.get(key))
    ]


def _ranges(places: list[Destination]) -> str:
    return ", ".join(ranges(place.serial for place in places))


def _place_line(place: Destination) -> tuple[str, str, str]:
    return place.serial, reverse("trace:serial", args=[place.serial]), where(place)


def where(place: Destination) -> str:
    """Say in what state a propeller is, and with whom."""
    owner = f", with {place.owner}" if place.owner else ""
    return f"{place.state_name}{owner}"


def _hold_line(
    hold: Hold, whole: DeviationFile, disabled_reason: DisabledReason
) -> DeviationLine:
    name = subject_called(hold)
    since = f"since {when(hold.happened_at)}, {hold.written_by}"
    head, url = f"{name[0].upper()}{name[1:]}", page_of(hold.subject)
    if hasattr(hold, "release"):
        release = hold.release
        until = f"{when(release.happened_at)}, {release.written_by}: {release.reason}"
        return DeviationLine(head, url, f"{since}; released {until}", "ok", "released")
    page = reverse("deviations:release", args=[hold.pk])
    decided = key_of(hold) not in {key_of(s) for s in whole.undecided}
    may = decided and not disabled_reason["dispose"]
    link = ("Release", page) if may else ("", "")
    return DeviationLine(head, url, since, "hold", "on hold", link)


def _decisions(whole: DeviationFile) -> list[dict[str, Any]]:
    return [
        {
            "kind": disposition.get_kind_display(),
            "about": ", ".join(
                subject_called(d.subject) for d in disposition.disposed.all()
            ),
            "facts": [
                (label, value)
                for label, value in (
                    ("Why", disposition.reason),
                    ("Agreed for the design by", disposition.design_authority),
                    ("For the customer", disposition.plain_words),
                    ("Stages to repeat", ", ".join(map(str, disposition.repeat.all()))),
                    (
                        "Decided by",
                        f"{disposition.written_by}, {when(disposition.happened_at)}",
                    ),
                    (
                        "Found and decided by",
                        "one person" if disposition.one_person else "",
                    ),
                )
                if value
            ],
        }
        for disposition in whole.dispositions
    ]


def _action_line(
    action: CorrectiveAction, disabled_reason: DisabledReason
) -> DeviationLine:
    about = f"{action.owner}, by {day(action.due_on)}"
    checks = list(action.checks.all())
    write = disabled_reason["write"]
    if checks:
        last = checks[-1]
        about += f"; looked at {when(last.happened_at)}: {last.evidence}"
        shape = "ok" if last.effective else "outside"
        return DeviationLine(action.what, "", about, shape, str(last))
    if action.done_on:
        about += f"; done {day(action.done_on)}, to be looked at {day(action.look_on)}"
        page = reverse("deviations:effect", args=[action.pk])
        link = ("", "") if write else ("Did it work?", page)
        return DeviationLine(
            action.what, "", about, "waiting", "done, to be looked at", link
        )
    late = action.due_on < localdate()
    page = reverse("deviations:done", args=[action.pk])
    link = ("", "") if write else ("It is done", page)
    shape, word = ("outside", "overdue") if late else ("waiting", "to do")
    return DeviationLine(action.what, "", about, shape, word, link)


def _actions(deviation: Deviation, disabled_reason: DisabledReason) -> list[Action]:
    dispose, write = disabled_reason["dispose"], disabled_reason["write"]
    to_do = [
        Action("Decide", "decide", dispose),
        Action("State the cause", "cause", write),
        Action("Add an action", "act", write),
        Action("Add what it touches as well", "add", write),
        Action("Close it", "close", dispose),
    ]
    actions = [] if is_closed(deviation) else to_do
    actions.append(Action("Print the report (PDF)", "report", ""))
    return [
        Action(label, reverse(f"deviations:{name}", args=[deviation.number]), why)
        for label, name, why in actions
    ]
