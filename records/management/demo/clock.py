"""Time in the invented shop: builds take turns, and the book is written in order."""

import datetime as dt
import heapq
from collections.abc import Callable, Generator
from itertools import count
from typing import Any, TypeVar

T = TypeVar("T")

Story = Generator[dt.timedelta, None, T]
"""Does something, then says how long until it goes on; gives what it made."""


class Clock:
    """The shop's clock, which only goes forward."""

    def __init__(self, start: dt.datetime) -> None:
        self.now = start

    def tick(self, minutes: float = 1) -> dt.datetime:
        """Let some minutes go by."""
        self.now += dt.timedelta(minutes=minutes)
        return self.now

    def at_least(self, moment: dt.datetime) -> dt.datetime:
        """Wait until a moment, unless it is past."""
        self.now = max(self.now, moment)
        return self.now


def tell(
    clock: Clock,
    stories: list[tuple[dt.datetime, Story[Any]]],
    said: Callable[[int], None],
) -> None:
    """Let every story go on when its time has come, and say how many are left."""
    turn = count()
    waiting = [(begins, next(turn), story) for begins, story in stories]
    heapq.heapify(waiting)
    while waiting:
        moment, _, story = heapq.heappop(waiting)
        clock.at_least(moment)
        pause = next(story, None)
        if pause is None:
            said(len(waiting))
        else:
            heapq.heappush(waiting, (clock.now + pause, next(turn), story))
