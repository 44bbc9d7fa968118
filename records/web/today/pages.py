"""What waits today, the most pressing first, each with the one link to it."""

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import islice
from typing import Any

from django.urls import reverse
from django.utils.timezone import localdate

from records.models import CorrectiveAction, Propeller
from records.queries import today as waiting
from records.queries.builds.next_stages import InWork, in_work
from records.queries.pressing.history import PressHistory
from records.queries.subjects import called
from records.rules.deviations.opening import subject_called
from records.spelling.moments import day, when
from records.spelling.quantities import percent
from records.spelling.verdicts import Verdict
from records.web.shared.pages import deviation_page, page_of

MOST = waiting.MOST


@dataclass(frozen=True, slots=True)
class Ticket:
    """One thing that waits: what, where to press, and until when if a clock runs.

    `act` says what is done about it, on the button when it is the first of all.
    """

    head: str
    about: str
    url: str
    verdict: str
    word: str
    act: str
    until: dt.datetime | None = None
    clock: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Tickets of one kind; `more` leads to the whole list where there is more."""

    title: str
    tickets: list[Ticket] = field(default_factory=list)
    more: str = ""


def today_groups(now: dt.datetime) -> list[Group]:
    """Gather everything that waits, leaving out the groups with nothing in them."""
    today = localdate(now)
    groups = [
        _group("Glue is open", _glue_ups(), "builds:blanks"),
        _group("Under pressure", _loads(), "pressing:loads"),
        _group("Not as required", _deviations(today), "deviations:deviations"),
        _group("On hold, not looked into", _holds(), "deviations:holds"),
        _group("Actions", _actions(today), "deviations:deviations"),
        _group("Coupons to break", _coupons(now), "coupons:coupons"),
        _group("In work", _in_work(), "builds:propellers"),
        _group("To hand over", _released(), "builds:propellers"),
        _group("Lots to check", _lots(), "lots:lots"),
        _group("Boards to inspect", _boards(), "boards:boards"),
        _group("Gauges due", _gauges(today), "gauges:gauges"),
        _group("Lots near their last day", _expiring(today), "lots:lots"),
    ]
    return [group for group in groups if group.tickets]


def sum_up(groups: list[Group]) -> Verdict:
    """Say in a shape and a few words whether all is well."""
    shapes = [t.verdict for group in groups for t in group.tickets]
    held, late = shapes.count("hold"), shapes.count("outside")
    words = [f"{held} on hold"] if held else []
    words += [f"{late} overdue or outside"] if late else []
    if held:
        return Verdict("hold", ", ".join(words))
    if late:
        return Verdict("outside", ", ".join(words))
    return (
        Verdict("waiting", "work waits") if shapes else Verdict("ok", "nothing waits")
    )


def _group(title: str, tickets: Iterable[Ticket], more: str) -> Group:
    group = list(islice(tickets, MOST + 1))
    return Group(title, group[:MOST], reverse(more) if len(group) > MOST else "")


def _glue_ups() -> Iterator[Ticket]:
    for glue_up in waiting.glue_ups():
        joints = glue_up.blank.revision.laminations - 1
        yield Ticket(
            head=f"Blank {glue_up.blank}",
            about=f"{glue_up.closed} of {joints} joints closed",
            url=reverse("gluing:glue_up", args=[glue_up.blank.number]),
            verdict="waiting",
            word="in glue-up",
            act=f"Glue blank {glue_up.blank}",
            until=glue_up.until,
            clock="working life of the last mix",
        )


def _loads() -> Iterator[Ticket]:
    for history in waiting.loads_under_pressure():
        load = history.load
        dips = any(dip.matters for dip in history.dips)
        yield Ticket(
            head=f"Press load {load}",
            about=f"{load.press}, since {when(load.on_at)}",
            url=page_of(load),
            verdict="outside" if dips else "waiting",
            word="pressure was low" if dips else _cured(history),
            act=f"Look at press load {load}",
            until=history.opening_at or history.forecast_at,
            clock="earliest opening",
        )


def _cured(history: PressHistory) -> str:
    if history.opening_at:
        return "may be opened"
    share = history.fraction
    return "under pressure" if share is None else f"{percent(share)} of its time"


def _deviations(today: dt.date) -> Iterator[Ticket]:
    listed: list[Any] = waiting.deviations_open()
    for deviation in listed:
        about = ", ".join(
            dict.fromkeys(subject_called(s) for s in deviation.subjects.all())
        )
        days = (today - localdate(deviation.happened_at)).days
        yield Ticket(
            head=f"{deviation.number}: {deviation.title}",
            about=f"{about}; {days} days",
            url=reverse("deviations:deviation", args=[deviation.number]),
            verdict="hold" if deviation.holds_standing else "waiting",
            word=_what_next(deviation),
            act=f"Go on with {deviation.number}",
        )


def _holds() -> Iterator[Ticket]:
    for hold in waiting.holds_unexplained():
        name = subject_called(hold)
        yield Ticket(
            head=f"{name[0].upper()}{name[1:]}",
            about=f"{hold.reason.rstrip('.')}, since {when(hold.happened_at)}",
            url=deviation_page(hold.subject),
            verdict="hold",
            word="open a deviation",
            act=f"Open a deviation about {name}",
        )


def _what_next(deviation: Any) -> str:
    if not deviation.decided:
        return "to be decided"
    return "decided, on hold" if deviation.holds_standing else "to be closed"


def _actions(today: dt.date) -> Iterator[Ticket]:
    for action in waiting.actions_due(today):
        due = _due(action, today)
        yield Ticket(
            head=action.what,
            about=f"{action.owner}, {action.deviation.number}",
            url=reverse("deviations:deviation", args=[action.deviation.number]),
            verdict=due.shape,
            word=due.word,
            act=f"Go on with {action.deviation.number}",
        )


def _due(action: CorrectiveAction, today: dt.date) -> Verdict:
    if action.done_on is not None:
        return Verdict("waiting", f"did it work? due {day(action.look_on)}")
    if action.due_on < today:
        return Verdict("outside", f"overdue since {day(action.due_on)}")
    return Verdict("waiting", f"due {day(action.due_on)}")


def _coupons(now: dt.datetime) -> Iterator[Ticket]:
    for coupon in waiting.coupons_to_break():
        age = now - coupon.made_at
        yield Ticket(
            head=f"Coupon {coupon}",
            about=f"mix {coupon.mix}, {coupon.wood}",
            url=page_of(coupon),
            verdict="waiting",
            word=f"{age.days} days old" if age.days else "made today",
            act=f"Break coupon {coupon}",
        )


def _in_work() -> Iterator[Ticket]:
    for build in in_work():
        yield _work(build)


def _work(build: InWork) -> Ticket:
    name = called(build.thing)
    return Ticket(
        head=f"{name[0].upper()}{name[1:]}",
        about=str(build.thing.revision.design),
        url=page_of(build.thing),
        verdict="ok" if _all_signed(build) else "waiting",
        word=_stage_word(build),
        act=f"Go on with {name}",
    )


def _all_signed(build: InWork) -> bool:
    return build.stage is None and build.thing.state != Propeller.State.RETURNED


def _stage_word(build: InWork) -> str:
    if build.thing.state == Propeller.State.RETURNED:
        return "back for repair"
    return f"next: {build.stage.name}" if build.stage else "every stage signed"


def _released() -> Iterator[Ticket]:
    for propeller in waiting.released():
        yield Ticket(
            head=f"Propeller {propeller}",
            about=str(propeller.revision.design),
            url=page_of(propeller),
            verdict="ok",
            word="released",
            act=f"Hand over {propeller}",
        )


def _lots() -> Iterator[Ticket]:
    for lot in waiting.lots_to_check():
        about = f"{lot.material}, received {day(lot.received_on)}"
        yield Ticket(
            head=f"Lot {lot}",
            about=about,
            url=page_of(lot),
            verdict="waiting",
            word="to be checked",
            act=f"Check lot {lot}",
        )


def _boards() -> Iterator[Ticket]:
    for board in waiting.boards_to_inspect():
        about = f"{board.lot.material}, lot {board.lot}"
        yield Ticket(
            head=f"Board {board}",
            about=about,
            url=page_of(board),
            verdict="waiting",
            word="to be inspected",
            act=f"Inspect board {board}",
        )


def _gauges(today: dt.date) -> Iterator[Ticket]:
    listed: list[Any] = waiting.gauges_due(today)
    for gauge in listed:
        due = _gauge_due(gauge.due_on, today)
        yield Ticket(
            head=f"Gauge {gauge.number}",
            about=gauge.name,
            url=page_of(gauge),
            verdict=due.shape,
            word=due.word,
            act=f"Calibrate gauge {gauge.number}",
        )


def _gauge_due(due: dt.date | None, today: dt.date) -> Verdict:
    if due is None:
        return Verdict("outside", "never calibrated")
    if due < today:
        return Verdict("outside", f"overdue since {day(due)}")
    return Verdict("waiting", f"due {day(due)}")


def _expiring(today: dt.date) -> Iterator[Ticket]:
    for lot in waiting.lots_expiring(today):
        last = lot.expires_on or today
        late = last < today
        yield Ticket(
            head=f"Lot {lot}",
            about=str(lot.material),
            url=page_of(lot),
            verdict="outside" if late else "waiting",
            word=f"{'was' if late else 'is'} usable until {day(last)}",
            act=f"Look at lot {lot}",
        )
